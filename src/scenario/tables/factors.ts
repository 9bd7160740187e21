import type { FactorRecord } from '../../records/tables/factors.js';
import { materials } from '../design/materials.js';
import { reportedForm } from '../design/oxide-form.js';
import { drawNormal } from '../draw.js';

/** First row of the 12-run design of Plackett and Burman (1946); the others are its cyclic shifts and a row of low levels. */
const generator = [1, 1, -1, 1, 1, 1, -1, -1, -1, 1, -1] as const;

/** Factors of the ruggedness experiment; columns without a factor estimate the scatter. */
export const ruggednessFactors = [
  'flux mass',
  'fusion temperature',
  'fusion time',
  'acid amount',
  'dissolution time',
  'nebuliser flow',
  'plasma power',
  'unused 1',
  'unused 2',
  'unused 3',
  'unused 4',
] as const;

/** True change from low to high level, relative to the response: too cold a melt leaves zircon behind. */
export const ruggednessEffects: Readonly<Partial<Record<(typeof ruggednessFactors)[number], number>>> = {
  'fusion temperature': 0.02,
};

const relativeScatter = 0.006;

/** Twelve experiments; the response is the ZrO2 of sample ZP-2 in g/100 g. */
export function factorRecords(seed: number): FactorRecord[] {
  const truth = reportedForm('Zr', materials['ZP-2'].contents.Zr);
  return Array.from({ length: 12 }, (_, row) => {
    const signs = ruggednessFactors.map((_, column): -1 | 1 =>
      row === 11 ? -1 : generator[(column - row + 11) % 11]!,
    );
    const effect = ruggednessFactors.reduce(
      (sum, factor, column) => sum + ((ruggednessEffects[factor] ?? 0) / 2) * (signs[column]! - 1),
      0,
    );
    const error = drawNormal(seed, relativeScatter, ['factors', row + 1, 'response']);
    return {
      experiment: row + 1,
      levels: Object.fromEntries(ruggednessFactors.map((factor, column) => [factor, signs[column]!])),
      response: Number((truth * (1 + effect + error)).toFixed(3)),
    };
  });
}
