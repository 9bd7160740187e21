import { requireFinite } from '../../errors.js';
import { mean } from './mean.js';
import { powerOfTwoScale } from './power-of-two-scale.js';

/** Deviations from the mean times a power of two: deviation = `deviations[i]` / `scale`. */
export interface ScaledDeviations {
  readonly deviations: Float64Array;
  readonly scale: number;
}

/**
 * Deviations from the mean that keep their digits under a large common offset: centred twice, so that the rounding of
 * the mean does not count. Scaled by a power of two where squares would leave the range of double precision, which
 * leaves ratios such as (x − x̄)/s as they are.
 *
 * @param values n finite values in one unit
 * @param least smallest n the caller can work with
 * @throws InputError fewer than `least` values, or one that is not finite
 * @example
 * Array.from(scaledDeviations([1e9 + 1, 1e9 + 2, 1e9 + 3]).deviations) // => [-0.5,0,0.5]
 */
export function scaledDeviations(values: ArrayLike<number>, least = 1): ScaledDeviations {
  requireFinite(values, 'values', least);
  const centre = mean(values) / 2;
  // Halved so that the difference of two values at opposite ends of the range does not overflow.
  const halves = new Float64Array(values.length);
  for (let i = 0; i < halves.length; i++) halves[i] = values[i]! / 2 - centre;
  const scale = powerOfTwoScale(halves);
  for (let i = 0; i < halves.length; i++) halves[i]! *= scale;
  const shift = mean(halves);
  for (let i = 0; i < halves.length; i++) halves[i]! -= shift;
  return { deviations: halves, scale: scale / 2 };
}
