import { InputError, requireProbability } from '../errors.js';
import { normalQuantile } from '../statistics/distributions/normal.js';
import { studentTQuantile } from '../statistics/distributions/student-t.js';

/**
 * Coverage factor: the two-sided quantile of the t distribution, so that estimate ± k·u holds the stated probability.
 * Degrees of freedom that are no whole number are used as they are; cut them down yourself where a rule asks for it.
 *
 * @param degreesOfFreedom above 0, may be `Infinity`
 * @param coverageProbability between 0 and 1
 * @throws InputError degrees of freedom not above 0, a probability not between 0 and 1
 * @see JCGM 100:2008, G.3 and G.4 (Table G.2)
 * @example
 * coverageFactor(9, 0.95) // => 2.2621571628
 */
export function coverageFactor(degreesOfFreedom: number, coverageProbability = 0.95): number {
  requireProbability(coverageProbability, 'coverage probability');
  if (!(degreesOfFreedom > 0)) {
    throw new InputError(`degrees of freedom: found ${degreesOfFreedom}, expected a number above 0`);
  }
  const p = (1 + coverageProbability) / 2;
  return degreesOfFreedom === Infinity ? normalQuantile(p) : studentTQuantile(p, degreesOfFreedom);
}
