import { InputError } from '../../errors.js';
import { mean } from '../../statistics/descriptive/mean.js';
import type { EvaluatedStudy } from '../evaluate-study.js';
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

/** Relative deviations of one level: rows of all analytes by day. */
type Level = ReadonlyMap<string, readonly (readonly number[])[]>;

/**
 * Scatter of results between digestions of one day and between days, with its covariances, pooled over the levels of a study.
 * The levels share their days, so pooling them adds degrees of freedom within days only.
 *
 * @throws InputError no level with at least 2 days and a day with at least 2 digestions in which all analytes have results
 * @see JCGM 100:2008 (GUM), H.5 (variance components); cross products in place of squares
 */
export function scatterOfResults(study: EvaluatedStudy): ScatterOfResults {
  const { plan } = study.index.records;
  const analytes = plan.analytes.map((scope) => scope.analyte);
  const levels = plan.levels
    .map(({ sample }) => relativeDeviations(study, analytes, sample))
    .filter(isNested);
  if (levels.length === 0) {
    throw new InputError('scatter of results: expected a level with 2 days and 2 digestions of one day');
  }
  const p = analytes.length;
  const within = { sum: zeros(p), nu: 0 };
  const between = { sum: zeros(p), nu: 0, perDay: 0 };
  for (const level of levels) {
    const days = [...level.values()];
    for (const rows of days) {
      const centre = meanRow(rows);
      for (const row of rows) addProducts(within.sum, minus(row, centre), 1);
      within.nu += rows.length - 1;
    }
    const centres = days.map(meanRow);
    const all = meanRow(centres);
    for (const centre of centres) addProducts(between.sum, minus(centre, all), 1);
    between.nu += days.length - 1;
    between.perDay += days.length / days.reduce((sum, rows) => sum + 1 / rows.length, 0) / levels.length;
  }
  const digestions = within.sum.map((row) => row.map((value) => value / within.nu));
  return {
    analytes,
    digestions,
    degreesOfFreedomDigestions: within.nu,
    days: between.sum.map((row, a) =>
      row.map((value, b) => value / between.nu - digestions[a]![b]! / between.perDay),
    ),
    degreesOfFreedomDays: Math.max(...levels.map((level) => level.size)) - 1,
  };
}

function relativeDeviations(study: EvaluatedStudy, analytes: readonly string[], sample: string): Level {
  const byAnalyte = analytes.map((analyte) => {
    const results = resultsOf(study, analyte, 'sample', sample);
    const centre = results.length === 0 ? 0 : mean(results.map((r) => r.value));
    return new Map(results.map((r) => [r.digestion, { day: r.day, value: r.value / centre - 1 }]));
  });
  const days = new Map<string, number[][]>();
  for (const [digestion, { day }] of byAnalyte[0] ?? []) {
    const row = byAnalyte.map((results) => results.get(digestion)?.value ?? Number.NaN);
    if (!row.every(Number.isFinite)) continue;
    days.set(day, [...(days.get(day) ?? []), row]);
  }
  return days;
}

function isNested(level: Level): boolean {
  return level.size >= 2 && [...level.values()].some((rows) => rows.length >= 2);
}

function zeros(p: number): number[][] {
  return Array.from({ length: p }, () => new Array<number>(p).fill(0));
}

function meanRow(rows: readonly (readonly number[])[]): number[] {
  return rows[0]!.map((_, a) => mean(rows.map((row) => row[a]!)));
}

function minus(row: readonly number[], centre: readonly number[]): number[] {
  return row.map((value, a) => value - centre[a]!);
}

function addProducts(sum: number[][], row: readonly number[], weight: number): void {
  row.forEach((x, a) => {
    row.forEach((y, b) => {
      sum[a]![b]! += weight * x * y;
    });
  });
}
