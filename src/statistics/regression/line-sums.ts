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

/** The sums of a weighted line; deviations are kept in two parts, high and low. */
export function lineSums(x: readonly number[], y: readonly number[], w: readonly number[]): LineSums {
  const weight = new WideSum();
  for (let i = 0; i < w.length; i++) weight.add(w[i]!, 0);
  const xMean = weightedMean(x, w, weight.value());
  const yMean = weightedMean(y, w, weight.value());
  const [dx, dy] = [deviations(x, xMean), deviations(y, yMean)];
  const [xx, xy, weighted] = [new WideSum(), new WideSum(), new WideSum()];
  for (let i = 0; i < x.length; i++) {
    weighted.hi = 0;
    weighted.lo = 0;
    weighted.addProduct(w[i]!, 0, dx.high[i]!, dx.low[i]!);
    xx.addProduct(weighted.hi, weighted.lo, dx.high[i]!, dx.low[i]!);
    xy.addProduct(weighted.hi, weighted.lo, dy.high[i]!, dy.low[i]!);
  }
  const slope = divide(xy.value(), xx.value());
  const residual = new WideSum();
  const residuals: number[] = [];
  for (let i = 0; i < x.length; i++) {
    weighted.hi = dy.high[i]!;
    weighted.lo = dy.low[i]!;
    weighted.addProduct(-slope.hi, -slope.lo, dx.high[i]!, dx.low[i]!);
    const r = weighted.hi + weighted.lo;
    residuals.push(r);
    residual.addProduct(w[i]! * r, 0, r, 0);
  }
  const sums = { xx: xx.value(), xy: xy.value(), residual: residual.value() };
  return { w: weight.value(), xMean, yMean, ...sums, slope, residuals };
}

function weightedMean(values: readonly number[], w: readonly number[], total: DoubleDouble): DoubleDouble {
  const sum = new WideSum();
  for (let i = 0; i < values.length; i++) sum.addProduct(w[i]!, 0, values[i]!, 0);
  return divide(sum.value(), total);
}

function deviations(values: readonly number[], mean: DoubleDouble): { high: number[]; low: number[] } {
  const high: number[] = [];
  const low: number[] = [];
  const part = new WideSum();
  for (let i = 0; i < values.length; i++) {
    part.hi = values[i]!;
    part.lo = 0;
    part.add(-mean.hi, -mean.lo);
    high.push(part.hi);
    low.push(part.lo);
  }
  return { high, low };
}
