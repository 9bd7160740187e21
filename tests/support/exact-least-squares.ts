import { Rational, rationalZero, solveExactly } from './rational.js';

/** A weighted least-squares fit in exact arithmetic on the binary64 data, rounded once at the end. */
export interface ExactLeastSquares {
  readonly coefficients: readonly number[];
  /** Variances of the coefficients, scaled by the residual variance. */
  readonly variances: readonly number[];
  readonly standardErrors: readonly number[];
  readonly residualSumOfSquares: number;
  readonly residualMeanSquare: number;
  readonly residualStandardDeviation: number;
  /** About the mean of y where the first column is constant, else about 0. */
  readonly regressionSumOfSquares: number;
  readonly f: number;
  readonly rSquared: number;
}

/** Solves the normal equations exactly. Columns may hold exact rationals, such as powers. */
export function exactLeastSquares(
  columns: readonly (readonly (number | Rational)[])[],
  y: readonly number[],
  weights: readonly number[] = y.map(() => 1),
): ExactLeastSquares {
  const w = weights.map(Rational.from);
  const design = columns.map((column) => column.map((v) => (v instanceof Rational ? v : Rational.from(v))));
  const response = y.map(Rational.from);
  const dot = (a: readonly Rational[], b: readonly Rational[]): Rational =>
    a.reduce((total, value, i) => total.plus(value.times(b[i]!).times(w[i]!)), rationalZero).reduced();
  const normal = design.map((a) => design.map((b) => dot(a, b)));
  const right = design.map((a) => dot(a, response));
  const units = design.map((_, k) => design.map((__, i) => new Rational(i === k ? 1n : 0n)));
  const [coefficients = [], ...inverse] = solveExactly(normal, [right, ...units]);
  const p = columns.length;
  const n = y.length;
  const hasConstant = columns[0]!.every((v) => v === 1);
  const explained = right.reduce(
    (total, value, k) => total.plus(value.times(coefficients[k]!)),
    rationalZero,
  );
  const square = dot(response, response);
  const rss = square.minus(explained).reduced();
  const correction = hasConstant ? right[0]!.times(right[0]!).over(normal[0]![0]!) : rationalZero;
  const regression = explained.minus(correction).reduced();
  const meanSquare = rss.over(new Rational(BigInt(n - p)));
  const variances = inverse.map((column, k) => column[k]!.times(meanSquare));
  const df = hasConstant ? p - 1 : p;
  const total = regression.plus(rss);
  return {
    coefficients: coefficients.map((c) => c.toNumber()),
    variances: variances.map((v) => v.toNumber()),
    standardErrors: variances.map((v) => v.squareRoot()),
    residualSumOfSquares: rss.toNumber(),
    residualMeanSquare: meanSquare.toNumber(),
    residualStandardDeviation: meanSquare.squareRoot(),
    regressionSumOfSquares: regression.toNumber(),
    f:
      meanSquare.isZero() || df === 0
        ? Number.POSITIVE_INFINITY
        : regression
            .over(new Rational(BigInt(df)))
            .over(meanSquare)
            .toNumber(),
    rSquared: total.isZero() ? 0 : regression.over(total).toNumber(),
  };
}
