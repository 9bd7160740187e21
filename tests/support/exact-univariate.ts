import { exactSum, Rational, rationalZero } from './rational.js';

/** Mean of binary64 numbers, exactly. */
export function exactMean(values: readonly number[]): Rational {
  return exactSum(values)
    .over(new Rational(BigInt(values.length)))
    .reduced();
}

/** Variance with n − 1 in the denominator, exactly. */
export function exactVariance(values: readonly number[]): Rational {
  const deviations = exactDeviations(values);
  return productSum(deviations, deviations).over(new Rational(BigInt(values.length - 1)));
}

/** Lag-1 autocorrelation coefficient, exactly. */
export function exactAutocorrelation(values: readonly number[]): Rational {
  const deviations = exactDeviations(values);
  return productSum(deviations.slice(1), deviations).over(productSum(deviations, deviations));
}

/** |actual − exact| / |exact|; |actual| where the exact value is 0. */
export function errorAgainst(actual: number, exact: Rational): number {
  const difference = Rational.from(actual).minus(exact);
  return Math.abs((exact.isZero() ? difference : difference.over(exact)).toNumber());
}

/** As `errorAgainst`, for the square root of an exact value. */
export function errorAgainstRoot(actual: number, square: Rational): number {
  const exact = Rational.from(actual);
  return errorAgainstSquare(exact.times(exact), square);
}

function errorAgainstSquare(actual: Rational, exact: Rational): number {
  const difference = actual.minus(exact);
  return Math.abs((exact.isZero() ? difference : difference.over(exact)).toNumber()) / 2;
}

function exactDeviations(values: readonly number[]): Rational[] {
  const mean = exactMean(values);
  return values.map((x) => Rational.from(x).minus(mean));
}

function productSum(first: readonly Rational[], second: readonly Rational[]): Rational {
  return first.reduce((total, x, i) => total.plus(x.times(second[i]!)), rationalZero).reduced();
}
