import { InputError } from '../../errors.js';
import { mean } from '../../statistics/descriptive/mean.js';
import type { DigestionResult, EvaluatedStudy } from '../evaluate-study.js';
import { resultsOf } from '../matrix/matrix-context.js';

/** Observed covariance of results of several analytes, relative to their contents. */
export interface ScatterOfResults {
  readonly analytes: readonly string[];
  /** Between digestions of one day: what the analytes of one digestion share stands beside the diagonal. */
  readonly digestions: readonly (readonly number[])[];
  readonly degreesOfFreedomDigestions: number;
  /** Between days; differences of mean squares, so that it need not be positive semi-definite. */
  readonly days: readonly (readonly number[])[];
  readonly degreesOfFreedomDays: number;
}

/** Results of one level that a scatter is taken from: rows of all analytes, by day. */
export interface LevelRows {
  /** Mean of each analyte over the level, which the scatter is relative to. */
  readonly centres: readonly number[];
  readonly days: ReadonlyMap<string, readonly (readonly DigestionResult[])[]>;
}

/** Relative deviations of one level: rows of all analytes by day. */
export type Deviations = ReadonlyMap<string, readonly (readonly number[])[]>;

/**
 * Scatter of results between digestions of one day and between days, with its covariances, pooled over the levels of a study.
 * The levels share their days, so pooling them adds degrees of freedom within days only.
 *
 * @throws InputError no level with at least 2 days and a day with at least 2 digestions in which all analytes have results
 */
export function scatterOfResults(study: EvaluatedStudy): ScatterOfResults {
  const analytes = study.index.records.plan.analytes.map((scope) => scope.analyte);
  const levels = nestedLevels(study);
  const sums = noProducts(analytes.length);
  for (const level of levels)
    addScatterProducts(
      sums,
      deviations(level, (result, a) => result.value! / level.centres[a]! - 1),
    );
  const { digestions, days, nuWithin } = scatterComponents(sums, levels);
  return {
    analytes,
    digestions,
    degreesOfFreedomDigestions: nuWithin,
    days,
    degreesOfFreedomDays: Math.max(...levels.map((level) => level.days.size)) - 1,
  };
}

/**
 * Levels whose results are repeated within and over days.
 *
 * @throws InputError no level with at least 2 days and a day with at least 2 digestions in which all analytes have results
 */
export function nestedLevels(study: EvaluatedStudy): LevelRows[] {
  const { plan } = study.index.records;
  const analytes = plan.analytes.map((scope) => scope.analyte);
  const levels = plan.levels.map(({ sample }) => levelRows(study, analytes, sample)).filter(isNested);
  if (levels.length === 0) {
    throw new InputError('scatter of results: expected a level with 2 days and 2 digestions of one day');
  }
  return levels;
}

/** A number for each result, in the rows of the level. */
export function deviations(
  { days }: LevelRows,
  of: (result: DigestionResult, analyte: number) => number,
): Deviations {
  return new Map([...days].map(([day, rows]) => [day, rows.map((row) => row.map(of))]));
}

/** Sums of cross products of deviations: within the days of a level, and of the day means. */
export interface ScatterProducts {
  readonly within: number[][];
  readonly between: number[][];
}

/** Adds the cross products of one level to `sums`. Independent sources add up, so sums over sources are those of all of them. */
export function addScatterProducts(sums: ScatterProducts, level: Deviations): void {
  const days = [...level.values()];
  const centres = days.map(meanRow);
  days.forEach((rows, d) => {
    for (const row of rows) addProducts(sums.within, minus(row, centres[d]!));
  });
  const all = meanRow(centres);
  for (const centre of centres) addProducts(sums.between, minus(centre, all));
}

/** Empty sums for p analytes. */
export function noProducts(p: number): ScatterProducts {
  const zeros = () => Array.from({ length: p }, () => new Array<number>(p).fill(0));
  return { within: zeros(), between: zeros() };
}

/**
 * Mean products within days, and the part of the day means that they do not account for.
 *
 * @param levels with the shape of those that the sums were taken over
 * @see JCGM 100:2008 (GUM), H.5 (variance components); cross products in place of squares
 */
export function scatterComponents(
  { within, between }: ScatterProducts,
  levels: readonly LevelRows[],
): Pick<ScatterOfResults, 'digestions' | 'days'> & { readonly nuWithin: number } {
  let nuWithin = 0;
  let nuBetween = 0;
  let perDay = 0;
  for (const { days } of levels) {
    const sizes = [...days.values()].map((rows) => rows.length);
    nuWithin += sizes.reduce((sum, n) => sum + n - 1, 0);
    nuBetween += sizes.length - 1;
    perDay += sizes.length / sizes.reduce((sum, n) => sum + 1 / n, 0) / levels.length;
  }
  const digestions = within.map((row) => row.map((value) => value / nuWithin));
  const days = between.map((row, a) =>
    row.map((value, b) => value / nuBetween - digestions[a]![b]! / perDay),
  );
  return { digestions, days, nuWithin };
}

function levelRows(study: EvaluatedStudy, analytes: readonly string[], sample: string): LevelRows {
  const byAnalyte = analytes.map(
    (analyte) => new Map(resultsOf(study, analyte, 'sample', sample).map((r) => [r.digestion, r])),
  );
  const days = new Map<string, DigestionResult[][]>();
  for (const [digestion, { day }] of byAnalyte[0] ?? []) {
    const row = byAnalyte.flatMap((results) => results.get(digestion) ?? []);
    if (row.length < analytes.length) continue;
    days.set(day, [...(days.get(day) ?? []), row]);
  }
  if (days.size === 0) return { centres: [], days };
  return { centres: byAnalyte.map((results) => mean([...results.values()].map((r) => r.value))), days };
}

function isNested({ days }: LevelRows): boolean {
  return days.size >= 2 && [...days.values()].some((rows) => rows.length >= 2);
}

/** Of deviations, which lie about 0: a plain sum loses nothing. */
function meanRow(rows: readonly (readonly number[])[]): number[] {
  return rows[0]!.map((_, a) => rows.reduce((sum, row) => sum + row[a]!, 0) / rows.length);
}

function minus(row: readonly number[], centre: readonly number[]): number[] {
  return row.map((value, a) => value - centre[a]!);
}

function addProducts(sum: number[][], row: readonly number[]): void {
  row.forEach((x, a) => {
    if (x === 0) return;
    row.forEach((y, b) => {
      sum[a]![b]! += x * y;
    });
  });
}
