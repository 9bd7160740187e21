import { requirePositive } from '../../errors.js';
import { normalDensity, normalSurvival } from '../distributions/normal.js';
import { iterateWinsorised, type RobustEstimate } from './robust-estimate.js';
import { normalConsistency } from './scaled-median-absolute-deviation.js';

/**
 * Huber's proposal 2: location and scale estimated together, the scale made consistent for normal data by the exact
 * constant where Algorithm A rounds it to 1.134.
 *
 * @param values n ≥ 2 finite values in one unit
 * @param k limit of undisturbed weight in units of the scale
 * @returns location and scale in the unit of the data
 * @throws InputError fewer than two values, one that is not finite, k not positive, a scale beyond 1.8e308, or no convergence
 * @see Huber 1964, Ann. Math. Statist. 35, 73; Analytical Methods Committee 1989, Analyst 114, 1693
 * @example
 * huberProposal2([1, 2, 3, 4, 100]).location // => 4.0274705
 */
export function huberProposal2(values: ArrayLike<number>, k = 1.5): RobustEstimate {
  requirePositive(k, 'k');
  const outside = 2 * normalSurvival(k);
  const variance = 1 - outside + k * k * outside - 2 * k * normalDensity(k);
  return iterateWinsorised(values, {
    method: `Huber proposal 2, k = ${k}`,
    startFactor: normalConsistency,
    limitFactor: k,
    scaleFactor: 1 / Math.sqrt(variance),
  });
}
