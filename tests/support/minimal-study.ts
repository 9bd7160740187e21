import type { StudyRecords } from '../../src/records/study-records.js';
import { smallStudy } from '../records/small-study.js';

const days = ['2025-01-07', '2025-01-08', '2025-01-09'] as const;
/** What the standards hold, in mg/kg. */
const standards = [0, 1, 2, 4] as const;
const [sample, blank] = ['S-1', 'procedure blank'];
const countsPerMgPerKg = 100_000;
const internalStandardCounts = 90_000;

const kinds = [
  { sample: blank, kind: 'blank', portionG: 0, massFraction: 0.004 },
  { sample, kind: 'sample', portionG: 0.2, massFraction: 1.6 },
  { sample, kind: 'sample', portionG: 0.2, massFraction: 1.61 },
] as const;

const digestions = days.flatMap((day, d) =>
  kinds.map(({ sample: name, kind, portionG }, i) => ({
    ...smallStudy.digestions[0]!,
    digestion: `D-${d}${i}`,
    order: i + 1,
    sample: name,
    kind,
    day,
    crucibleWithPortionG: 30.1 + portionG,
  })),
);

/** Readings of one day: standards, then digestions, three times each; they scatter by 0.2 % in a fixed pattern. */
function readingsOf(day: string, d: number): StudyRecords['readings'] {
  const solutions = [
    ...standards.map((massFraction) => ({ solution: `Cal ${massFraction}`, massFraction })),
    ...kinds.map(({ massFraction }, i) => ({
      solution: `D-${d}${i}`,
      massFraction: massFraction * (1 + 0.004 * (d - 1)),
    })),
  ];
  return solutions.flatMap(({ solution, massFraction }, position) =>
    [1, 2, 3].map((repeat) => ({
      ...smallStudy.readings[0]!,
      run: `R${d + 1}`,
      position: position + 1,
      time: `${day}T09:${String(10 + position)}:0${repeat}`,
      solution,
      repeat,
      intensity:
        countsPerMgPerKg *
        (massFraction * (1 + 0.002 * (((position + repeat + d) % 3) - 1)) + 0.001 * (1 + (repeat % 2))),
      internalStandardIntensity: internalStandardCounts,
    })),
  );
}

const { secondLineNm: _, ...aluminium } = smallStudy.plan.analytes[0]!;

/** The plan and the register, with the digestions, calibration and readings of three days: no other table, no criterion. */
export const minimalStudy: StudyRecords = {
  ...smallStudy,
  plan: {
    ...smallStudy.plan,
    study: 'minimal',
    portionsWeighed: 'dry',
    analytes: [aluminium],
    levels: [{ level: 'only', sample }],
    stability: null,
    interferenceCheck: null,
    nativeCheckDigestions: [],
    statedInputs: [],
    criteria: [],
  },
  equipment: [smallStudy.equipment[0]!, { ...smallStudy.equipment[0]!, id: 'B-2', certificate: 'C-2' }],
  digestions,
  calibration: days.flatMap((_day, d) =>
    standards.map((massFractionMgPerKg) => ({
      run: `R${d + 1}`,
      solution: `Cal ${massFractionMgPerKg}`,
      analyte: 'Al',
      massFractionMgPerKg,
      concentrationMgPerL: null,
      standardUncertainty: 0.001 * massFractionMgPerKg,
      preparedFrom: massFractionMgPerKg === 0 ? '' : 'Al 100',
    })),
  ),
  readings: days.flatMap(readingsOf),
  dilutions: [],
  standards: [],
  references: [],
  spikes: [],
  additions: [],
  comparison: [],
  moisture: [],
  interference: [],
  exclusions: [],
  factors: [],
  homogeneity: [],
  history: [],
  rounds: [],
  missingTables: [],
};
