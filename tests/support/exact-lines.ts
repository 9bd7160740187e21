import { Rational, rationalZero, solveExactly } from './rational.js';

/** Lines between two erring coordinates in exact arithmetic on the binary64 data: the slow twin of the quick fits. */

type Exact = readonly Rational[];

const exact = (values: readonly number[]): Rational[] => values.map(Rational.from);
const whole = (value: number): Rational => new Rational(BigInt(value));
const sum = (values: Exact): Rational => values.reduce((a, b) => a.plus(b), rationalZero).reduced();
const dot = (a: Exact, b: Exact): Rational => sum(a.map((value, i) => value.times(b[i]!)));
const combine = (a: Exact, factor: Rational, b: Exact): Rational[] =>
  a.map((value, i) => value.plus(factor.times(b[i]!)).reduced());

/** Slope and intercept of Deming's line; the one square root to 300 bits. */
function demingLine(x: Exact, y: Exact, ratio: Rational): { slope: Rational; intercept: Rational } {
  const n = whole(x.length);
  const [xMean, yMean] = [sum(x).over(n).reduced(), sum(y).over(n).reduced()];
  const [dx, dy] = [x.map((v) => v.minus(xMean)), y.map((v) => v.minus(yMean))];
  const [xx, yy, xy] = [dot(dx, dx), dot(dy, dy), dot(dx, dy)];
  const difference = yy.minus(ratio.times(xx));
  const square = difference.times(difference).plus(whole(4).times(ratio).times(xy).times(xy));
  const slope = difference.plus(square.reduced().wideSquareRoot()).over(whole(2).times(xy)).reduced();
  return { slope, intercept: yMean.minus(slope.times(xMean)).reduced() };
}

/** Deming's line with the jackknife standard errors of its parameters. */
export function exactDeming(x: readonly number[], y: readonly number[], ratio: number) {
  const [rx, ry, r] = [exact(x), exact(y), Rational.from(ratio)];
  const line = demingLine(rx, ry, r);
  const parts = rx.map((_, leftOut) => {
    const rest = (values: Exact) => values.filter((__, i) => i !== leftOut);
    return demingLine(rest(rx), rest(ry), r);
  });
  // Pseudo-values n·θ − (n − 1)·θ_i have the spread of (n − 1)·θ_i.
  const n = x.length;
  const standardError = (values: Exact) => {
    const mean = sum(values).over(whole(n)).reduced();
    const squares = sum(values.map((v) => v.minus(mean)).map((d) => d.times(d)));
    return squares
      .times(whole(n - 1))
      .over(whole(n))
      .squareRoot();
  };
  return {
    slope: line.slope.toNumber(),
    intercept: line.intercept.toNumber(),
    standardErrorSlope: standardError(parts.map((p) => p.slope)),
    standardErrorIntercept: standardError(parts.map((p) => p.intercept)),
  };
}

/** Covariance matrices of the coordinates. */
export interface ExactCovariance {
  readonly xx: readonly (readonly number[])[];
  readonly yy: readonly (readonly number[])[];
  readonly xy: readonly (readonly number[])[];
}

/**
 * The generalised distance of all points from the line of a given slope, its intercept the best one: χ², the sign of its
 * derivative by the slope (0 at the fit, rising through it), and height and variances at the centre.
 */
export function exactDistance(
  x: readonly number[],
  y: readonly number[],
  covariance: ExactCovariance,
  slope: number,
) {
  const [rx, ry, b] = [exact(x), exact(y), Rational.from(slope)];
  const [xx, yy, xy] = [covariance.xx, covariance.yy, covariance.xy].map((m) => m.map(exact));
  const both = xy!.map((row, i) => row.map((value, j) => value.plus(xy![j]![i]!)));
  const along = yy!.map((row, i) =>
    row.map((value, j) => value.plus(b.times(b).times(xx![i]![j]!)).minus(b.times(both[i]![j]!)).reduced()),
  );
  const solve = (...right: Exact[]) =>
    solveExactly(along, right).map((column) => column.map((v) => v.reduced()));
  const ones = x.map(() => whole(1));
  const target = combine(ry, whole(-1).times(b), rx);
  const [ofOnes, ofTarget] = solve(ones, target);
  const intercept = sum(ofTarget!).over(sum(ofOnes!)).reduced();
  const residuals = combine(target, whole(-1).times(intercept), ones);
  const weighted = combine(ofTarget!, whole(-1).times(intercept), ofOnes!);
  const change = xx!.map((row, i) =>
    dot(row, weighted).times(whole(2)).times(b).minus(dot(both[i]!, weighted)),
  );
  const derivative = whole(-2).times(dot(rx, weighted)).minus(dot(weighted, change));
  const adjusted = rx.map((value, i) =>
    value
      .plus(b.times(dot(xx![i]!, weighted)))
      .minus(dot(xy![i]!, weighted))
      .reduced(),
  );
  const xCentre = dot(ofOnes!, adjusted).over(sum(ofOnes!)).reduced();
  const centred = adjusted.map((value) => value.minus(xCentre).reduced());
  const spread = dot(centred, solve(centred)[0]!);
  return {
    derivativeSign: derivative.numerator > 0n ? 1 : derivative.numerator < 0n ? -1 : 0,
    chiSquared: dot(residuals, weighted).toNumber(),
    intercept: intercept.toNumber(),
    xCentre: xCentre.toNumber(),
    yCentre: intercept.plus(b.times(xCentre)).toNumber(),
    varianceCentre: whole(1).over(sum(ofOnes!)).toNumber(),
    varianceSlope: whole(1).over(spread).toNumber(),
    adjustedX: adjusted.map((value) => value.toNumber()),
  };
}

/** The shifted median of all pairwise slopes of Passing and Bablok, in exact comparison. */
export function exactPassingBablokSlope(x: readonly number[], y: readonly number[]): number {
  const [rx, ry] = [exact(x), exact(y)];
  const less = (a: Rational, b: Rational) => a.minus(b).numerator < 0n;
  const minusOne = whole(-1);
  const slopes: Rational[] = [];
  rx.forEach((first, i) => {
    for (let j = i + 1; j < rx.length; j++) {
      const dx = rx[j]!.minus(first);
      if (dx.isZero()) throw new RangeError('equal x');
      const slope = ry[j]!.minus(ry[i]!).over(dx).reduced();
      if (!slope.minus(minusOne).isZero()) slopes.push(slope);
    }
  });
  slopes.sort((a, b) => (less(a, b) ? -1 : 1));
  const offset = slopes.filter((slope) => less(slope, minusOne)).length;
  const half = Math.floor(slopes.length / 2);
  if (slopes.length % 2 === 1) return slopes[half + offset]!.toNumber();
  return slopes[half - 1 + offset]!.plus(slopes[half + offset]!)
    .over(whole(2))
    .toNumber();
}
