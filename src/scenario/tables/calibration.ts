import type { CalibrationRecord } from '../../records/tables/calibration.js';
import { type Analyte, analyteDesigns, analyteNames } from '../design/analytes.js';
import { names, nominal } from '../design/components.js';
import { drawNormal } from '../draw.js';
import type { HiddenErrors } from '../hidden-errors.js';

/** One calibration solution with the analytes it holds: recorded and true content in mg/kg. */
export interface CalibrationSolution {
  readonly solution: string;
  readonly contents: ReadonlyMap<string, { readonly recorded: number; readonly actual: number }>;
}

const nativeStandards = [0, 0.005, 0.01, 0.02, 0.04, 0.08];

/** The seven levels of each analyte in one run, prepared anew for it: a common zero and two series of six. */
export function calibrationSolutions(seed: number, run: string, hidden: HiddenErrors): CalibrationSolution[] {
  const zero = {
    solution: names.zeroSolution,
    contents: new Map(analyteNames.map((a) => [a as string, { recorded: 0, actual: 0 }])),
  };
  const level = (series: 'A' | 'B', index: number): CalibrationSolution => {
    const solution = `CAL-${series}${index + 1}`;
    const members = analyteNames.filter((a) => analyteDesigns[a].series === series);
    const content = (analyte: Analyte) => {
      const recorded = analyteDesigns[analyte].standards[index]!;
      const actual = recorded * hidden.stock[analyte] * preparation(seed, run, solution, analyte);
      return [analyte as string, { recorded, actual }] as const;
    };
    return { solution, contents: new Map(members.map(content)) };
  };
  const levels = [0, 1, 2, 3, 4, 5];
  return [zero, ...levels.map((i) => level('A', i)), ...levels.map((i) => level('B', i))];
}

/** Standards of the internal-standard element, for the run that looks for a native amount. */
export function nativeCalibrationSolutions(seed: number, run: string): CalibrationSolution[] {
  const stock = 1 + drawNormal(seed, 0.005, ['standards', `S-${names.internalStandard}`, 'content']);
  return nativeStandards.map((recorded, index) => {
    const solution = `CAL-S${index}`;
    const actual = recorded * stock * preparation(seed, run, solution, names.internalStandard);
    return { solution, contents: new Map([[names.internalStandard, { recorded, actual }]]) };
  });
}

function preparation(seed: number, run: string, solution: string, analyte: string): number {
  return 1 + drawNormal(seed, nominal.preparationRelativeU, ['calibration', run, solution, analyte]);
}

/** Rows of the calibration table for one run. */
export function calibrationRecords(
  run: string,
  solutions: readonly CalibrationSolution[],
): CalibrationRecord[] {
  return solutions.flatMap(({ solution, contents }) =>
    [...contents].map(([analyte, { recorded }]) => ({
      run,
      solution,
      analyte,
      massFractionMgPerKg: recorded,
      concentrationMgPerL: null,
      standardUncertainty: Number((recorded * nominal.preparationRelativeU).toPrecision(3)),
      preparedFrom: `S-${analyte}`,
    })),
  );
}
