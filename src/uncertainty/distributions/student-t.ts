import { InputError, requirePositive } from '../../errors.js';
import { studentTCdf, studentTDensity, studentTQuantile } from '../../statistics/distributions/student-t.js';
import { normalDistribution } from './normal.js';
import type { ProbabilityDistribution } from './probability-distribution.js';
import { symmetricDistribution } from './symmetric-distribution.js';

/**
 * Scaled and shifted t distribution: a mean of observations with s/√n as its scale. Its standard deviation is
 * √(ν/(ν − 2)) times the scale, and does not exist for ν ≤ 2.
 *
 * @param standardUncertainty s/√n, the scale
 * @param degreesOfFreedom above 0; `Infinity` makes it normal
 * @throws InputError a scale or degrees of freedom not above 0
 * @see JCGM 101:2008, 6.4.9
 * @example
 * tDistribution(0, 1, 4).quantile(0.975) // => 2.7764451052
 */
export function tDistribution(
  estimate: number,
  standardUncertainty: number,
  degreesOfFreedom: number,
): ProbabilityDistribution {
  if (degreesOfFreedom === Infinity) return normalDistribution(estimate, standardUncertainty);
  requirePositive(standardUncertainty, 'standard uncertainty');
  if (!(degreesOfFreedom > 0)) {
    throw new InputError(`degrees of freedom: found ${degreesOfFreedom}, expected a number above 0`);
  }
  const nu = degreesOfFreedom;
  return symmetricDistribution(estimate, {
    standardDeviation: nu > 2 ? standardUncertainty * Math.sqrt(nu / (nu - 2)) : Infinity,
    reach: Infinity,
    density: (z) => studentTDensity(z / standardUncertainty, nu) / standardUncertainty,
    tail: (z) => studentTCdf(-z / standardUncertainty, nu),
    tailQuantile: (p) => -standardUncertainty * studentTQuantile(p, nu),
  });
}
