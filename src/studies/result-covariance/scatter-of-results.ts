import type { DigestionResult } from '../evaluate-study.js';
import type { LevelRows, NestedLevels } from './nested-levels.js';

/** Observed covariance of results of several analytes, relative to their contents. */
export interface ScatterOfResults {
  readonly analytes: readonly string[];
  /** Between digestions of one day: what the analytes of one digestion share stands beside the diagonal. */
  readonly digestions: readonly (readonly number[])[];
  /** By analyte. */
  readonly degreesOfFreedomDigestions: readonly number[];
  /** Between days; differences of mean squares, so that it need not be positive semi-definite. */
  readonly days: readonly (readonly number[])[];
  /** By analyte. */
  readonly degreesOfFreedomDays: readonly number[];
  /** Lowest mean of a level that counts, by analyte, in the unit of its results: a relative scatter is known from there on. */
  readonly lowest: readonly number[];
}

/** Relative deviations of one level: rows of all analytes by day. */
export type Deviations = readonly (readonly (readonly number[])[])[];

/**
 * Scatter of results between digestions of one day and between days, with its covariances, pooled over the levels of a study.
 * The levels share their days, so pooling them adds degrees of freedom within days only.
 */
export function scatterOfResults({ analytes, levels }: NestedLevels): ScatterOfResults {
  const sums = noProducts(analytes.length);
  for (const level of levels)
    addScatterProducts(
      sums,
      level,
      deviations(level, (result, a) => result.value! / level.centres[a]! - 1),
    );
  const ofAnalyte = (a: number) => levels.filter(({ pairs }) => pairs.some(([x, y]) => x === a && y === a));
  return {
    analytes,
    ...scatterComponents(sums, levels),
    degreesOfFreedomDigestions: analytes.map((_, a) => ofAnalyte(a).reduce((sum, l) => sum + nuWithin(l), 0)),
    degreesOfFreedomDays: analytes.map((_, a) => Math.max(...ofAnalyte(a).map((l) => l.days.size)) - 1),
    lowest: analytes.map((_, a) => Math.min(...ofAnalyte(a).map((l) => l.centres[a]!))),
  };
}

/** A number for each result, in the rows of the level; 0 for an analyte that has none. */
export function deviations(
  { days }: LevelRows,
  of: (result: DigestionResult, analyte: number) => number,
): Deviations {
  return [...days.values()].map((rows) =>
    rows.map((row) => row.map((result, a) => (result === null ? 0 : of(result, a)))),
  );
}

/** Sums of cross products of deviations: within the days of a level, and of the day means. */
export interface ScatterProducts {
  readonly within: number[][];
  readonly between: number[][];
}

/** Adds the cross products of one level to `sums`. Independent sources add up, so sums over sources are those of all of them. */
export function addScatterProducts(sums: ScatterProducts, { pairs }: LevelRows, days: Deviations): void {
  const centres = days.map(meanRow);
  days.forEach((rows, d) => {
    for (const row of rows) addProducts(sums.within, pairs, minus(row, centres[d]!));
  });
  const all = meanRow(centres);
  for (const centre of centres) addProducts(sums.between, pairs, minus(centre, all));
}

/** Empty sums for p analytes. */
export function noProducts(p: number): ScatterProducts {
  return { within: zeros(p), between: zeros(p) };
}

/**
 * Mean products within days, and the part of the day means that they do not account for: the mean square of day means holds that
 * of the digestions by the mean of 1/n over the days of each level, weighted as the levels enter it.
 *
 * @param levels with the shape of those that the sums were taken over
 * @see JCGM 100:2008 (GUM), H.5 (variance components); cross products in place of squares
 */
export function scatterComponents(
  { within, between }: ScatterProducts,
  levels: readonly LevelRows[],
): Pick<ScatterOfResults, 'digestions' | 'days'> {
  const [digestions, days] = [zeros(within.length), zeros(within.length)];
  within.forEach((row, a) => {
    row.forEach((_, b) => {
      const own = levels.filter(({ pairs }) =>
        pairs.some(([x, y]) => (x === a && y === b) || (x === b && y === a)),
      );
      if (own.length === 0) return;
      const [nuOfDays, share] = own.reduce(
        ([nu, sum], level) => [nu + level.days.size - 1, sum + (level.days.size - 1) * meanOfInverses(level)],
        [0, 0],
      );
      const ofDigestions = within[a]![b]! / own.reduce((sum, level) => sum + nuWithin(level), 0);
      digestions[a]![b] = ofDigestions;
      days[a]![b] = (between[a]![b]! - share * ofDigestions) / nuOfDays;
    });
  });
  return { digestions, days };
}

function nuWithin({ days }: LevelRows): number {
  return [...days.values()].reduce((sum, rows) => sum + rows.length - 1, 0);
}

function meanOfInverses({ days }: LevelRows): number {
  return [...days.values()].reduce((sum, rows) => sum + 1 / rows.length, 0) / days.size;
}

function zeros(p: number): number[][] {
  return Array.from({ length: p }, () => new Array<number>(p).fill(0));
}

/** Of deviations, which lie about 0: a plain sum loses nothing. */
function meanRow(rows: readonly (readonly number[])[]): number[] {
  return rows[0]!.map((_, a) => rows.reduce((sum, row) => sum + row[a]!, 0) / rows.length);
}

function minus(row: readonly number[], centre: readonly number[]): number[] {
  return row.map((value, a) => value - centre[a]!);
}

function addProducts(sum: number[][], pairs: LevelRows['pairs'], row: readonly number[]): void {
  for (const [a, b] of pairs) {
    const product = row[a]! * row[b]!;
    if (product === 0) continue;
    sum[a]![b]! += product;
    if (a !== b) sum[b]![a]! += product;
  }
}
