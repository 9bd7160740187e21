import type { RoundRecord } from '../../records/tables/rounds.js';
import { analyteDesigns } from '../design/analytes.js';
import { drawNormal } from '../draw.js';
import type { ScenarioSwitches } from '../scenario-options.js';
import { controlTruth } from './history.js';

/** Relative figures: standard deviation for proficiency assessment, assigned value's u, the laboratory's own u and scatter. */
const analytesOfRounds = {
  Zr: { sigma: 0.012, assigned: 0.002, stated: 0.0075, scatter: 0.006 },
  Si: { sigma: 0.012, assigned: 0.0025, stated: 0.0075, scatter: 0.006 },
  Al: { sigma: 0.045, assigned: 0.01, stated: 0.015, scatter: 0.008 },
  Fe: { sigma: 0.05, assigned: 0.01, stated: 0.015, scatter: 0.008 },
} as const;

/** Size of each round's material against the control material. */
const roundMaterials = [
  { round: 'QPT-2025-1', material: 'PT-A', scale: 0.97 },
  { round: 'QPT-2025-2', material: 'PT-B', scale: 1.01 },
  { round: 'QPT-2026-1', material: 'PT-C', scale: 0.99 },
  { round: 'QPT-2026-2', material: 'PT-D', scale: 1.02 },
] as const;

/** Four proficiency rounds with four analytes each, in the form and unit the study reports. */
export function roundRecords({ seed, overlap }: ScenarioSwitches): RoundRecord[] {
  return roundMaterials.flatMap(({ round, material, scale }) =>
    (Object.keys(analytesOfRounds) as (keyof typeof analytesOfRounds)[]).map((analyte): RoundRecord => {
      const figures = analytesOfRounds[analyte];
      const { unit } = analyteDesigns[analyte];
      const draw = (relative: number, purpose: string) =>
        1 + drawNormal(seed, relative, ['rounds', `${round}|${analyte}`, purpose]);
      const truth = controlTruth(analyte, false) * scale;
      const found = controlTruth(analyte, overlap) * scale * draw(figures.scatter, 'result');
      const digits = (value: number) => Number(value.toFixed(unit === 'mg/kg' ? 0 : 2));
      const precise = (value: number) => Number(value.toPrecision(3));
      return {
        round,
        material,
        analyte,
        value: digits(found),
        unit,
        expandedUncertainty: precise(2 * figures.stated * truth),
        assignedValue: digits(truth * draw(figures.assigned, 'assigned value')),
        assignedStandardUncertainty: precise(figures.assigned * truth),
        sigmaPt: precise(figures.sigma * truth),
      };
    }),
  );
}
