import { InputError, requireFinite, requireSameLength } from '../../errors.js';
import {
  add,
  type DoubleDouble,
  multiply,
  narrow,
  square,
  subtract,
  wide,
  zero,
} from '../arithmetic/double-double.js';
import {
  type CrossedCells,
  type CrossedFactor,
  columnsAdjustedForRows,
  crossedCells,
  type LevelMeans,
} from './crossed-cells.js';
import { completeStrata, type StratumSums, type VarianceStratum } from './variance-stratum.js';

/** Analysis of variance of two crossed factors. */
export interface TwoWayAnalysis {
  readonly mean: number;
  readonly n: number;
  /** Rows, columns (adjusted for rows), interaction where cells hold several values, residual. */
  readonly strata: readonly VarianceStratum[];
  readonly totalVariance: number;
  readonly balanced: boolean;
  readonly method: string;
  readonly notes: readonly string[];
}

/**
 * Two-way analysis of variance of crossed factors, with components by expected mean squares.
 *
 * Sums of squares are sequential: rows first, columns adjusted for rows, then the interaction if cells hold several values. In
 * the random model rows and columns are tested against the interaction, in the fixed model against the residual. In
 * unbalanced designs prefer `reml` for components.
 *
 * @param values n results in one unit
 * @param rows first factor
 * @param columns second factor, crossed with the first
 * @param model whether the levels are a sample (default) or all that matter
 * @throws InputError unequal lengths, fewer than two levels, factors that the design does not tell apart, a value that is not
 *   finite
 * @see Searle, Casella and McCulloch, Variance Components, 1992, 4.3 and 5.3; ISO 5725-3:2023
 * @example
 * twoWayAnalysis([1, 2, 4, 5, 3, 4.5], { name: 'plate', levels: [1, 1, 2, 2, 3, 3] }, { name: 'sample', levels: [1, 2, 1, 2, 1, 2] }).strata[0].degreesOfFreedom // => 2
 */
export function twoWayAnalysis(
  values: readonly number[],
  rows: CrossedFactor,
  columns: CrossedFactor,
  model: 'random' | 'fixed' = 'random',
): TwoWayAnalysis {
  requireFinite(values, 'values', 4);
  for (const factor of [rows, columns]) {
    requireSameLength(values, 'values', factor.levels, factor.name);
    const levels = new Set(factor.levels).size;
    if (levels < 2) throw new InputError(`${factor.name}: found ${levels} level(s), expected at least 2`);
  }
  const design = crossedCells(values, rows, columns);
  const { sizes } = design.cells;
  const balanced =
    new Set(sizes).size === 1 && sizes.length === design.rows.sizes.length * design.columns.sizes.length;
  const notes = balanced
    ? []
    : [
        'The design is unbalanced: sums of squares are sequential, components depend on the method, F ratios are not exact.',
      ];
  const lines = crossedLines(values, design, rows.name, columns.name, model);
  const strata = completeStrata(
    lines,
    values.reduce((sum, value) => sum + value * value, 0),
    notes,
  );
  return {
    mean: narrow(design.mean),
    n: values.length,
    strata,
    totalVariance: strata.reduce((total, stratum) => total + stratum.variance, 0),
    balanced,
    method: `two-way crossed analysis of variance, ${model} model, components by expected mean squares`,
    notes,
  };
}

/** Lines of the table; traces are expectations of the sum of squares per unit of each component. */
function crossedLines(
  values: readonly number[],
  design: CrossedCells,
  rowName: string,
  columnName: string,
  model: 'random' | 'fixed',
): StratumSums[] {
  const { rows, columns, cells, mean } = design;
  const n = values.length;
  const replicated = cells.sizes.length < n;
  const adjusted = columnsAdjustedForRows(design, columnName);
  const ofRows = sumOfSquaresAbout(rows, mean);
  const ofColumns = wide(adjusted.sumOfSquares);
  const ofCells = sumOfSquaresAbout(cells, mean);
  const difference = subtract(subtract(ofCells, ofRows), ofColumns);
  // Columns are adjusted in 53 bits: what they leave of an additive table is rounding.
  const ofInteraction = narrow(difference) > 1e-13 * narrow(ofCells) ? difference : zero;
  const inRows = n - adjusted.columnTrace;
  const rowTraces = [n - share(rows, n), inRows - share(columns, n), inRows - share(cells, n)];
  const columnTraces = [0, adjusted.columnTrace, adjusted.cellTrace];
  const cellTraces = [0, 0, n - share(cells, n) - rowTraces[2]! - columnTraces[2]!];
  const line = (
    name: string,
    sumOfSquares: DoubleDouble,
    df: number,
    traces: readonly number[],
    testedAgainst: number | null,
  ): StratumSums => ({
    name,
    sumOfSquares,
    degreesOfFreedom: df,
    expectedMeanSquare: [...traces.slice(0, replicated ? 3 : 2), df].map((trace) => trace / df),
    testedAgainst,
  });
  const [dfRows, dfColumns] = [rows.sizes.length - 1, columns.sizes.length - 1];
  const dfInteraction = cells.sizes.length - 1 - dfRows - dfColumns;
  const last = replicated && model === 'fixed' ? 3 : 2;
  const lines = [
    line(rowName, ofRows, dfRows, rowTraces, last),
    line(columnName, ofColumns, dfColumns, columnTraces, last),
  ];
  if (!replicated) return [...lines, line('residual', ofInteraction, dfInteraction, [0, 0], null)];
  return [
    ...lines,
    line(`${rowName} × ${columnName}`, ofInteraction, dfInteraction, cellTraces, 3),
    line('residual', sumOfSquaresWithin(values, cells), n - cells.sizes.length, [0, 0, 0], null),
  ];
}

function share(levels: LevelMeans, n: number): number {
  return levels.sizes.reduce((total, size) => total + size ** 2, 0) / n;
}

function sumOfSquaresAbout(levels: LevelMeans, mean: DoubleDouble): DoubleDouble {
  return levels.means.reduce(
    (total, m, c) => add(total, multiply(square(subtract(m, mean)), wide(levels.sizes[c]!))),
    zero,
  );
}

function sumOfSquaresWithin(values: readonly number[], cells: LevelMeans): DoubleDouble {
  return values.reduce(
    (total, value, i) => add(total, square(subtract(wide(value), cells.means[cells.code[i]!]!))),
    zero,
  );
}
