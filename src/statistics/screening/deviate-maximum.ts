import { gaussLegendre } from '../arithmetic/gauss-legendre.js';
import { betaUpperQuantile } from '../distributions/beta.js';
import { betaPrefactor, incompleteBeta } from '../distributions/incomplete-beta.js';

/**
 * Distribution of the largest standardised deviate of n normal observations, D = max (xᵢ − x̄)·√(n/(n − 1))/√SS, which
 * runs from 1/(n − 1) to 1. Grubbs' one-sided G is D·(n − 1)/√n.
 *
 * With d = sin θ the density of one deviate is proportional to cosⁿ⁻³θ. Taking the largest value out leaves n − 1
 * observations whose own largest deviate must not exceed √(n/(n − 2))·tan θ, and is independent of θ; hence
 * F_n(θ) = n ∫ f_n(φ) F_{n−1}(φ′) dφ, sin φ′ = √(n/(n − 2)) tan φ, from F_2, which is a step at 1.
 *
 * @see Pearson and Chandra Sekar 1936, Biometrika 28, 308; Grubbs 1950, Ann. Math. Statist. 21, 27
 */
export interface DeviateMaximum {
  /** Smallest value D takes with a probability that counts. */
  readonly low: number;
  /** Probability that D is at most d. */
  cdf(d: number): number;
}

const known = new Map<number, DeviateMaximum>();

/**
 * Distribution of D for n observations, to about 1e-7.
 *
 * @param n at least 2
 * @example
 * deviateMaximum(3).cdf(Math.sin(Math.PI / 3)) // => 0.5
 */
export function deviateMaximum(n: number): DeviateMaximum {
  const found = known.get(n);
  if (found) return found;
  let current: DeviateMaximum = { low: 1, cdf: (d) => (d >= 1 ? 1 : 0) };
  for (let size = 3; size <= n; size++) current = next(size, current);
  if (known.size < 64) known.set(n, current);
  return current;
}

function next(n: number, before: DeviateMaximum): DeviateMaximum {
  const half = (n - 2) / 2;
  // Beyond √((n − 2)/(2n − 2)) only one observation at a time can exceed d, and the probability has closed form;
  // where the expected number of those that exceed d is 1e-7, the rest is below 1e-14.
  const single = Math.min((n - 2) / (2 * n - 2), n > 3 ? betaUpperQuantile(2e-7 / n, 0.5, half) : 1);
  const end = Math.asin(Math.sqrt(single));
  const constant = n * betaPrefactor(0.5, half, 0.5, 0.5) * 2 ** ((n - 1) / 2);
  const ratio = Math.sqrt(n / (n - 2));
  const start = Math.atan(before.low / ratio);
  const density = (theta: number) =>
    constant * Math.cos(theta) ** (n - 3) * before.cdf(Math.min(1, ratio * Math.tan(theta)));
  // Interpolation errors add up over the sizes: the cells shrink as their number grows.
  const cells = Math.min(2400, 600 + 20 * n);
  const table = tabulate(density, start, end, cells);
  const inside = (theta: number) => interpolate(table, (theta - start) / (end - start));
  const low = Math.sin(start + ((end - start) * firstAbove(table.values, 1e-25)) / cells);
  return {
    low,
    cdf: (d) => {
      if (d <= low) return 0;
      if (d >= 1) return 1;
      const theta = Math.asin(d);
      if (theta < end) return inside(theta);
      return 1 - (n / 2) * incompleteBeta(0.5, half, d * d, 1 - d * d).upper;
    },
  };
}

interface Table {
  readonly values: Float64Array;
  /** Slopes per cell. */
  readonly slopes: Float64Array;
}

/** Integral of the density up to each grid point, three Gauss points a cell, with the exact slopes. */
function tabulate(density: (theta: number) => number, start: number, end: number, cells: number): Table {
  const width = (end - start) / cells;
  const { points, weights } = gaussLegendre(3);
  const values = new Float64Array(cells + 1);
  const slopes = new Float64Array(cells + 1);
  for (let i = 0; i <= cells; i++) {
    slopes[i] = density(start + i * width) * width;
    if (i === cells) break;
    let sum = 0;
    for (let k = 0; k < 3; k++) sum += weights[k]! * density(start + (i + (1 + points[k]!) / 2) * width);
    values[i + 1] = values[i]! + (sum * width) / 2;
  }
  return { values, slopes };
}

/** Last position before the values exceed a threshold. */
function firstAbove(values: Float64Array, threshold: number): number {
  return Math.max(0, values.findIndex((x) => x > threshold) - 1);
}

/** Cubic Hermite interpolation at a fraction of the table's range. */
function interpolate({ values, slopes }: Table, fraction: number): number {
  const cells = values.length - 1;
  const position = Math.max(0, Math.min(cells, fraction * cells));
  const i = Math.min(cells - 1, Math.floor(position));
  const t = position - i;
  const rise = values[i + 1]! - values[i]!;
  const a = slopes[i]! - rise;
  const b = rise - slopes[i + 1]!;
  return values[i]! + t * rise + t * (1 - t) * ((1 - t) * a + t * b);
}
