import { InputError, requireProbability } from '../../errors.js';
import { chiSquaredQuantile } from '../distributions/chi-squared.js';
import { fQuantile } from '../distributions/f.js';
import { type MeanSquareTerm, requireTerms } from './mean-square-term.js';
import { satterthwaiteDegreesOfFreedom } from './satterthwaite.js';
import type { VarianceInterval } from './variance-interval.js';

/**
 * Modified-large-sample interval of a difference of two mean squares c₁·MS₁ − c₂·MS₂, such as a variance component
 * between days, (MS_day − MS_within)/n.
 *
 * Limits below 0 are raised to 0 and a note says so.
 *
 * @param minuend c₁ > 0, MS₁, ν₁
 * @param subtrahend c₂ > 0, MS₂, ν₂; the coefficient is given without its minus sign
 * @throws InputError a coefficient not above 0, or a term that is not usable
 * @see Ting, Burdick, Graybill, Jeyaratnam and Lu 1990, J. Stat. Comput. Simul. 35, 135; Burdick and Graybill 1992, 3.3
 * @example
 * modifiedLargeSampleInterval({ coefficient: 0.2, meanSquare: 11271.5, degreesOfFreedom: 5 }, { coefficient: 0.2, meanSquare: 2451.25, degreesOfFreedom: 24 }).interval.low // => 306.4
 */
export function modifiedLargeSampleInterval(
  minuend: MeanSquareTerm,
  subtrahend: MeanSquareTerm,
  coverage = 0.95,
): VarianceInterval {
  requireTerms([minuend, subtrahend]);
  requireProbability(coverage, 'coverage');
  if (!(minuend.coefficient > 0 && subtrahend.coefficient > 0)) {
    throw new InputError(
      'coefficients: expected both above 0; the subtrahend is given without its minus sign',
    );
  }
  const tail = (1 - coverage) / 2;
  const a = minuend.coefficient * minuend.meanSquare;
  const b = subtrahend.coefficient * subtrahend.meanSquare;
  const [nu1, nu2] = [minuend.degreesOfFreedom, subtrahend.degreesOfFreedom];
  const g = (nu: number) => 1 - nu / chiSquaredQuantile(1 - tail, nu);
  const h = (nu: number) => nu / chiSquaredQuantile(tail, nu) - 1;
  const [g1, g2, h1, h2] = [g(nu1), g(nu2), h(nu1), h(nu2)];
  const high = fQuantile(1 - tail, nu1, nu2);
  const low = fQuantile(tail, nu1, nu2);
  const g12 = ((high - 1) ** 2 - (g1 * high) ** 2 - h2 ** 2) / high;
  const h12 = ((1 - low) ** 2 - (h1 * low) ** 2 - g2 ** 2) / low;
  const below = (g1 * a) ** 2 + (h2 * b) ** 2 + g12 * a * b;
  const above = (h1 * a) ** 2 + (g2 * b) ** 2 + h12 * a * b;
  const variance = a - b;
  const limits = [
    variance - Math.sqrt(Math.max(0, below)),
    variance + Math.sqrt(Math.max(0, above)),
  ] as const;
  const notes = limits[0] < 0 ? ['A limit below 0 was raised to 0.'] : [];
  return {
    variance,
    interval: { low: Math.max(0, limits[0]), high: Math.max(0, limits[1]), coverage },
    degreesOfFreedom: satterthwaiteDegreesOfFreedom([
      minuend,
      { ...subtrahend, coefficient: -subtrahend.coefficient },
    ]),
    method: 'modified-large-sample interval of a difference of mean squares',
    notes,
  };
}
