import { profileIntervals } from '../../statistics/analysis-of-variance/profile-interval.js';
import { limitsFrom, limitsOfStandardDeviation } from '../confidence-limits.js';
import type { ResultRow } from '../result-row.js';
import { crossedLimits } from './crossed-limits.js';
import { factorComponents } from './factor-components.js';
import type { StandardDeviationEstimate } from './precision-estimates.js';

/** Precision of a reported result where several operators worked on one day. Variances in the squared unit of the results. */
export interface CrossedPrecision {
  readonly operators: number;
  readonly dayVariance: number;
  readonly operatorVariance: number;
  readonly digestionVariance: number;
  /** Of the mean of the digestions of one day by one operator: s_r, with χ² limits. */
  readonly withinDay: StandardDeviationEstimate;
  /** The same when day and operator change: s_I, with limits from mean squares and from the profiles of the components. */
  readonly overDays: StandardDeviationEstimate;
  readonly method: string;
  readonly notes: readonly string[];
}

/**
 * Whether operators cross with days, so that their differences would pass for differences between digestions of one day.
 * Operators who take turns by day are part of the variation between days, and need no component of their own.
 *
 * @example
 * operatorsCross([{ key: 'a', day: '1', value: 1, operator: 'A' }, { key: 'b', day: '1', value: 2, operator: 'B' }, { key: 'c', day: '2', value: 2, operator: 'A' }, { key: 'd', day: '2', value: 3, operator: 'B' }]) // => true
 */
export function operatorsCross(rows: readonly ResultRow[]): boolean {
  if (rows.some((row) => row.operator === undefined)) return false;
  const pairs = new Set(rows.map((row) => `${row.day}|${row.operator}`)).size;
  const operators = new Set(rows.map((row) => row.operator)).size;
  const days = new Set(rows.map((row) => row.day)).size;
  // Operators of one result each cannot be told from digestions; without a degree of freedom left, nor can days.
  return pairs > days && operators < rows.length && rows.length > days + operators - 1;
}

/**
 * Repeatability and intermediate precision with components for day, operator and digestion, by restricted maximum likelihood: any
 * number of digestions and any arrangement of operators and days.
 *
 * Limits of the sum of components: the farther of those from mean squares (`crossedLimits`) and those that join the
 * profile-likelihood limits of each component (variance estimates recovery). The latter alone are too narrow: for a component of
 * one to three degrees of freedom the likelihood falls too slowly to be cut at its χ² quantile, and with two operators whose
 * differences outweigh the rest the upper one lies below the truth in 13 % of studies; those from mean squares do so in 5 %. Few
 * operators give a wide upper limit: two or three say little about operators in general.
 *
 * @param rows all with their operator, `operatorsCross` true
 * @param perResult digestions of one day by one operator whose mean is the result
 * @throws InputError components that the arrangement does not tell apart
 * @see ISO 5725-3:2023 (intermediate measures of precision; no clause); Graybill and Wang 1980, J. Am. Stat. Assoc. 75, 869; Zou and
 *   Donner 2008, Statistics in Medicine 27, 1693
 */
export function crossedPrecision(rows: readonly ResultRow[], perResult: number): CrossedPrecision {
  const { components, fit, notes } = factorComponents(rows, ['day', 'operator']);
  const [day, operator, digestion] = components.map((component) => component.variance);
  const weights = [1, 1, 1 / perResult];
  const variance = day! + operator! + digestion! / perResult;
  const reach = reaches(rows, weights);
  const digestionDegrees = components[2]!.degreesOfFreedom!;
  const fromMeanSquares = crossedLimits(rows, perResult, {
    day: day!,
    operator: operator!,
    digestion: digestion!,
    degreesOfFreedomOfDigestions: digestionDegrees,
  });
  const limits = limitsFrom(
    (p) => Math.sqrt(Math.max(0, Math.min(variance - reach(p).below, fromMeanSquares(p).lower))),
    (p) => Math.sqrt(Math.max(variance + reach(p).above, fromMeanSquares(p).upper)),
  );
  const within = Math.sqrt(digestion! / perResult);
  return {
    operators: new Set(rows.map((row) => row.operator)).size,
    dayVariance: day!,
    operatorVariance: operator!,
    digestionVariance: digestion!,
    withinDay: {
      value: within,
      limits: limitsOfStandardDeviation(within, digestionDegrees),
      degreesOfFreedom: digestionDegrees,
    },
    overDays: { value: Math.sqrt(variance), limits, degreesOfFreedom: fit.totalDegreesOfFreedomExpected },
    method: 'restricted maximum likelihood, day and operator crossed',
    notes,
  };
}

/** Root of the sum of squared distances from the components to their profile limits, weighted; each probability is profiled once. */
function reaches(
  rows: readonly ResultRow[],
  weights: readonly number[],
): (probability: number) => { readonly below: number; readonly above: number } {
  const values = rows.map((row) => row.value);
  const factors = [
    { name: 'day', levels: rows.map((row) => row.day) },
    { name: 'operator', levels: rows.map((row) => row.operator!) },
  ];
  const known = new Map<number, { below: number; above: number }>();
  return (probability) => {
    const before = known.get(probability);
    if (before !== undefined) return before;
    const profiles = profileIntervals(values, factors, 1 - 2 * probability);
    const distance = (side: 'low' | 'high') =>
      Math.hypot(...profiles.map((p, k) => weights[k]! * (p.interval[side] - p.estimate)));
    const found = { below: distance('low'), above: distance('high') };
    known.set(probability, found);
    return found;
  };
}
