import { InputError } from '../../errors.js';
import type { LevelPrecision } from '../../studies/matrix/precision-study.js';
import type { MatrixValidation } from '../../studies/matrix/validate-matrix.js';
import {
  type FactorComponents,
  factorComponents,
  type PrecisionFactor,
} from '../../validation/precision/factor-components.js';
import { column, empty, number, numberOr, text } from '../cells.js';
import type { Block, Cell, Table } from '../document.js';

const looked: readonly PrecisionFactor[] = ['day', 'operator', 'place', 'crucible'];

/** Where the variation comes from: components by day, operator, place and crucible, for every analyte and level. */
export function factorBlocks({ precision }: MatrixValidation): Block[] {
  if (precision.length === 0) return [];
  const told = new Map(precision.map((level) => [level, factorsOf(level)]));
  const factors = looked.filter((factor) => [...told.values()].some((own) => own.includes(factor)));
  const table: Table = {
    kind: 'table',
    id: 'intermediate precision/factors',
    caption: 'Where the variation comes from: standard deviation by factor, relative to the mean',
    columns: [
      column('Analyte'),
      column('Level'),
      ...factors.map((factor) => column(`Between levels of ${factor}`, '%')),
      column('Between digestions', '%'),
      column('One digestion, all factors changed', '%'),
      column('Upper one-sided limit, approximate', '%'),
    ],
    rows: precision.map((level) => row(level, told.get(level)!, factors)),
    notes: [
      'Restricted maximum likelihood, factors crossed or nested as the work was arranged (ISO 5725-3:2023, no clause). 0: the component is held there, as the likelihood is largest at 0. Of fewer than five levels of a factor, such as two operators, the component is hardly known. The limit by Satterthwaite is approximate, and nothing here decides a verdict.',
    ],
    groupedBy: 0,
  };
  return [table];
}

/** Factors with two levels or more, fewer than results, and no two that part the results alike. */
function factorsOf({ rows }: LevelPrecision): PrecisionFactor[] {
  const partitions = new Set<string>();
  return looked.filter((factor) => {
    const levels = rows.map((r) => r[factor]);
    if (levels.includes(undefined)) return false;
    const names = [...new Set(levels)];
    const partition = levels.map((level) => names.indexOf(level)).join(',');
    if (names.length < 2 || names.length >= rows.length || partitions.has(partition)) return false;
    partitions.add(partition);
    return true;
  });
}

function row(
  level: LevelPrecision,
  own: readonly PrecisionFactor[],
  factors: readonly PrecisionFactor[],
): Cell[] {
  const percent = 100 / level.precision.components.mean;
  const found = componentsOf(level, own);
  const cells =
    found === null
      ? [...factors, '', '', ''].map(() => empty('not told apart'))
      : [
          ...factors.map((factor) => {
            const component = found.components.find(({ name }) => name === factor);
            return numberOr(component ? component.standardDeviation * percent : null, 2, 'one level');
          }),
          number(found.components.at(-1)!.standardDeviation * percent, 2),
          number(found.total * percent, 2),
          number(found.limits.upperOneSided * percent, 2),
        ];
  return [text(level.analyte), text(level.level), ...cells];
}

/** Null where the arrangement of the factors does not tell their components apart: the table says so. */
function componentsOf(
  { rows }: LevelPrecision,
  factors: readonly PrecisionFactor[],
): FactorComponents | null {
  if (factors.length === 0) return null;
  try {
    return factorComponents(rows, factors);
  } catch (error) {
    if (error instanceof InputError) return null;
    throw error;
  }
}
