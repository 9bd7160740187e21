import { requireFinite } from '../../errors.js';
import { normalQuantile } from '../distributions/normal.js';

/**
 * Half-normal scores of effects: where the absolute values would lie if all effects were error alone.
 *
 * Plot |effect| over its score: error lies on a line through the origin, effects that matter lie above it. Ties share
 * their mean rank.
 *
 * @param effects m effects, in the order of the result
 * @returns Φ⁻¹(½ + ½·(rank − ½)/m) of each
 * @throws InputError no effect, or one that is not finite
 * @see Daniel 1959, Technometrics 1, 311; ASTM E1169
 * @example
 * halfNormalScores([0.3, -2.1, 0.1])[1] // => 1.38299
 */
export function halfNormalScores(effects: readonly number[]): number[] {
  requireFinite(effects, 'effects');
  const sizes = effects.map(Math.abs);
  return sizes.map((size) => {
    const below = sizes.filter((other) => other < size).length;
    const equal = sizes.filter((other) => other === size).length;
    const rank = below + (equal + 1) / 2;
    return normalQuantile(0.5 + (0.5 * (rank - 0.5)) / effects.length);
  });
}
