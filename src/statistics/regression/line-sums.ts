import { type DoubleDouble, divide } from '../arithmetic/double-double.js';
import { WideSum } from '../arithmetic/wide-sum.js';

/** Sums of a weighted straight line in 106 bits. */
export interface LineSums {
  readonly w: DoubleDouble;
  readonly xMean: DoubleDouble;
  readonly yMean: DoubleDouble;
  /** Σ w·dx², Σ w·dx·dy and Σ w·residual² about the means. */
  readonly xx: DoubleDouble;
  readonly xy: DoubleDouble;
  readonly residual: DoubleDouble;
  readonly slope: DoubleDouble;
  readonly residuals: readonly number[];
}

/** Deviations from a mean in two parts. */
interface Deviations {
  readonly high: Float64Array;
  readonly low: Float64Array;
}

/** The sums of a weighted line; deviations are kept in two parts, high and low. */
export function lineSums(x: Float64Array, y: Float64Array, w: Float64Array): LineSums {
  const total = totalOf(w);
  const xMean = weightedMean(x, w, total);
  const yMean = weightedMean(y, w, total);
  const dx = deviations(x, xMean);
  const dy = deviations(y, yMean);
  const xx = sumOfProducts(w, dx, dx);
  const xy = sumOfProducts(w, dx, dy);
  const slope = divide(xy, xx);
  const residuals = residualsOf(dx, dy, slope);
  return { w: total, xMean, yMean, xx, xy, residual: sumOfSquares(w, residuals), slope, residuals };
}

function totalOf(w: Float64Array): DoubleDouble {
  const sum = new WideSum();
  for (let i = 0; i < w.length; i++) sum.add(w[i]!, 0);
  return sum.value();
}

function weightedMean(values: Float64Array, w: Float64Array, total: DoubleDouble): DoubleDouble {
  const sum = new WideSum();
  for (let i = 0; i < values.length; i++) sum.addProduct(w[i]!, 0, values[i]!, 0);
  return divide(sum.value(), total);
}

function deviations(values: Float64Array, mean: DoubleDouble): Deviations {
  const high = new Float64Array(values.length);
  const low = new Float64Array(values.length);
  const part = new WideSum();
  for (let i = 0; i < values.length; i++) {
    part.hi = values[i]!;
    part.lo = 0;
    part.add(-mean.hi, -mean.lo);
    high[i] = part.hi;
    low[i] = part.lo;
  }
  return { high, low };
}

/** Σ w·a·b. */
function sumOfProducts(w: Float64Array, a: Deviations, b: Deviations): DoubleDouble {
  const sum = new WideSum();
  const weighted = new WideSum();
  for (let i = 0; i < w.length; i++) {
    weighted.hi = 0;
    weighted.lo = 0;
    weighted.addProduct(w[i]!, 0, a.high[i]!, a.low[i]!);
    sum.addProduct(weighted.hi, weighted.lo, b.high[i]!, b.low[i]!);
  }
  return sum.value();
}

/** dy − slope·dx. */
function residualsOf(dx: Deviations, dy: Deviations, slope: DoubleDouble): number[] {
  const residuals: number[] = [];
  const part = new WideSum();
  for (let i = 0; i < dx.high.length; i++) {
    part.hi = dy.high[i]!;
    part.lo = dy.low[i]!;
    part.addProduct(-slope.hi, -slope.lo, dx.high[i]!, dx.low[i]!);
    residuals.push(part.hi + part.lo);
  }
  return residuals;
}

/** Σ w·residual². */
function sumOfSquares(w: Float64Array, residuals: readonly number[]): DoubleDouble {
  const sum = new WideSum();
  for (let i = 0; i < residuals.length; i++) sum.addProduct(w[i]! * residuals[i]!, 0, residuals[i]!, 0);
  return sum.value();
}
