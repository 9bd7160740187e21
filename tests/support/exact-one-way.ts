import { exactSum, Rational, rationalZero } from './rational.js';

/** Sums of squares of a one-way analysis in exact arithmetic on the binary64 data, rounded once at the end. */
export interface ExactOneWay {
  readonly grandMean: number;
  readonly between: number;
  readonly within: number;
  readonly meanSquareBetween: number;
  readonly meanSquareWithin: number;
  readonly f: number;
  readonly rSquared: number;
  readonly residualStandardDeviation: number;
}

export function exactOneWay(groups: readonly (readonly number[])[]): ExactOneWay {
  const n = groups.reduce((total, group) => total + group.length, 0);
  const sums = groups.map((group) => exactSum(group));
  const squares = groups.map((group) =>
    group.reduce((total, value) => {
      const exact = Rational.from(value);
      return total.plus(exact.times(exact));
    }, rationalZero),
  );
  const grand = sums.reduce((a, b) => a.plus(b), rationalZero);
  const correction = grand.times(grand).over(new Rational(BigInt(n)));
  const perGroup = sums
    .map((sum, i) => sum.times(sum).over(new Rational(BigInt(groups[i]!.length))))
    .reduce((a, b) => a.plus(b).reduced(), rationalZero);
  const within = squares
    .reduce((a, b) => a.plus(b), rationalZero)
    .minus(perGroup)
    .reduced();
  const between = perGroup.minus(correction).reduced();
  const msBetween = between.over(new Rational(BigInt(groups.length - 1)));
  const msWithin = within.over(new Rational(BigInt(n - groups.length)));
  const total = between.plus(within);
  return {
    grandMean: grand.over(new Rational(BigInt(n))).toNumber(),
    between: between.toNumber(),
    within: within.toNumber(),
    meanSquareBetween: msBetween.toNumber(),
    meanSquareWithin: msWithin.toNumber(),
    f: msWithin.isZero() ? Number.POSITIVE_INFINITY : msBetween.over(msWithin).toNumber(),
    rSquared: total.isZero() ? 0 : between.over(total).toNumber(),
    residualStandardDeviation: msWithin.squareRoot(),
  };
}
