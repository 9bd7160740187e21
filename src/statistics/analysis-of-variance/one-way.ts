import { InputError, requireFinite } from '../../errors.js';
import {
  add,
  type DoubleDouble,
  divide,
  multiply,
  narrow,
  square,
  subtract,
  sum,
  wide,
  withoutNoise,
  zero,
} from '../arithmetic/double-double.js';
import { fSurvival } from '../distributions/f.js';

/** Analysis of variance of one factor, with the variance components of the random-effects model. */
export interface OneWayAnalysis {
  readonly grandMean: number;
  readonly groupMeans: readonly number[];
  readonly groupSizes: readonly number[];
  /** Number of groups. */
  readonly groups: number;
  /** Number of values. */
  readonly n: number;
  /** n₀ = (N − Σn_i²/N)/(p − 1): the group size that the components use; n in a balanced design. */
  readonly effectiveGroupSize: number;
  readonly sumOfSquaresBetween: number;
  readonly sumOfSquaresWithin: number;
  readonly meanSquareBetween: number;
  readonly meanSquareWithin: number;
  readonly degreesOfFreedomBetween: number;
  readonly degreesOfFreedomWithin: number;
  /** Ratio of the mean squares; Infinity where the groups differ and hold no spread of their own. */
  readonly f: number;
  readonly pValue: number;
  /** Share of the total sum of squares that lies between groups. */
  readonly rSquared: number;
  /** Component between groups, held at 0 where the estimate is negative. */
  readonly betweenVariance: number;
  readonly betweenAtBoundary: boolean;
  /** (MS_between − MS_within)/n₀ as it falls, perhaps negative. */
  readonly betweenVarianceUnconstrained: number;
  readonly withinVariance: number;
  readonly method: string;
  readonly notes: readonly string[];
}

/**
 * One-way analysis of variance and its components of variance by expected mean squares.
 *
 * Answers: do groups (days, laboratories, levels) differ by more than the spread within them, and how large is the variance
 * between them? Groups may differ in size. Sums are carried in 106 bits: offsets cost no digits.
 *
 * @param groups p groups of results in one unit; p ≥ 2, none empty, more values than groups
 * @returns table, F test and components; the component between groups is held at 0 where the estimate is negative, and said so
 * @throws InputError fewer than two groups, an empty group, one value in every group, a value that is not finite
 * @see ISO 5725-2:2019, 7.4 (mean squares and n̿); GUM (JCGM 100:2008), H.5
 * @example
 * oneWayAnalysis([[10.1, 10.3], [9.8, 10.0], [10.4, 10.2]]).betweenVariance // => 0.03
 */
export function oneWayAnalysis(groups: readonly ArrayLike<number>[]): OneWayAnalysis {
  const n = requireGroups(groups);
  const sums = groups.map(sum);
  const means = groups.map((group, i) => divide(sums[i]!, wide(group.length)));
  const grandMean = divide(sums.reduce(add, zero), wide(n));
  let within = zero;
  let between = zero;
  groups.forEach((group, i) => {
    within = add(within, sumOfSquaresAbout(group, means[i]!));
    between = add(between, multiply(square(subtract(means[i]!, grandMean)), wide(group.length)));
  });
  const groupSizes = groups.map((group) => group.length);
  return oneWayTable({
    grandMean: narrow(grandMean),
    groupMeans: means.map(narrow),
    groupSizes,
    between,
    within,
  });
}

function requireGroups(groups: readonly ArrayLike<number>[]): number {
  if (groups.length < 2) throw new InputError(`groups: found ${groups.length}, expected at least 2`);
  groups.forEach((group, i) => {
    requireFinite(group, `group ${i + 1}`);
  });
  const n = groups.reduce((total, group) => total + group.length, 0);
  if (n === groups.length) {
    throw new InputError(
      'groups: found one value in every group, expected at least two values in one of them',
    );
  }
  return n;
}

/** Sum of squared deviations of the values from a centre. */
function sumOfSquaresAbout(values: ArrayLike<number>, centre: DoubleDouble): DoubleDouble {
  let total = zero;
  for (let i = 0; i < values.length; i++) total = add(total, square(subtract(wide(values[i]!), centre)));
  return total;
}

/** The sums from which the table of a one-way analysis follows. */
export interface OneWaySums {
  readonly grandMean: number;
  readonly groupMeans: readonly number[];
  readonly groupSizes: readonly number[];
  readonly between: DoubleDouble;
  readonly within: DoubleDouble;
}

/** Table, test and components from the sums of squares. */
export function oneWayTable(sums: OneWaySums): OneWayAnalysis {
  const sizes = sums.groupSizes;
  const n = sizes.reduce((a, b) => a + b, 0);
  const degreesOfFreedomBetween = sizes.length - 1;
  const degreesOfFreedomWithin = n - sizes.length;
  const scale = sums.groupMeans.reduce((total, mean, i) => total + sizes[i]! * mean * mean, 0);
  const between = withoutNoise(sums.between, scale + narrow(sums.within));
  const within = withoutNoise(sums.within, scale + narrow(sums.between));
  const n0 = (n - sizes.reduce((a, b) => a + b * b, 0) / n) / degreesOfFreedomBetween;
  const meanSquareBetween = divide(between, wide(degreesOfFreedomBetween));
  const meanSquareWithin = divide(within, wide(degreesOfFreedomWithin));
  const unconstrained = narrow(divide(subtract(meanSquareBetween, meanSquareWithin), wide(n0)));
  const notes: string[] = [];
  const f = ratioOfMeanSquares(meanSquareBetween, meanSquareWithin, notes);
  const total = add(between, within);
  if (unconstrained < 0) notes.push('The component between groups came out below 0 and is held at 0.');
  return {
    grandMean: sums.grandMean,
    groupMeans: sums.groupMeans,
    groupSizes: sizes,
    groups: sizes.length,
    n,
    effectiveGroupSize: n0,
    sumOfSquaresBetween: narrow(between),
    sumOfSquaresWithin: narrow(within),
    meanSquareBetween: narrow(meanSquareBetween),
    meanSquareWithin: narrow(meanSquareWithin),
    degreesOfFreedomBetween,
    degreesOfFreedomWithin,
    f,
    pValue: fSurvival(f, degreesOfFreedomBetween, degreesOfFreedomWithin),
    rSquared: narrow(total) === 0 ? 0 : narrow(divide(between, total)),
    betweenVariance: Math.max(0, unconstrained),
    betweenAtBoundary: unconstrained <= 0,
    betweenVarianceUnconstrained: unconstrained,
    withinVariance: narrow(meanSquareWithin),
    method: 'one-way analysis of variance, components by expected mean squares',
    notes,
  };
}

/** F of two mean squares, with a note where the lower one is 0. */
export function ratioOfMeanSquares(upper: DoubleDouble, lower: DoubleDouble, notes: string[]): number {
  if (narrow(lower) > 0) return narrow(divide(upper, lower));
  if (narrow(upper) > 0) {
    notes.push('The lower mean square is 0: F is infinite.');
    return Number.POSITIVE_INFINITY;
  }
  notes.push('Both mean squares are 0: there is no variation to compare.');
  return 0;
}
