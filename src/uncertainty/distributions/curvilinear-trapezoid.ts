import { InputError, requirePositive } from '../../errors.js';
import type { ProbabilityDistribution } from './probability-distribution.js';
import { symmetricDistribution } from './symmetric-distribution.js';

/**
 * Curvilinear trapezoid: a rectangular distribution whose limits are themselves known to ±d.
 *
 * @param halfWidth w, half the distance of the limits
 * @param halfWidthUncertainty d, half-width within which each limit lies, above 0 and below w
 * @returns standard deviation √(w²/3 + d²/9)
 * @throws InputError w not above 0, d not between 0 and w
 * @see JCGM 101:2008, 6.4.3
 * @example
 * curvilinearTrapezoidDistribution(0, 3, 0.6).standardDeviation // => 1.7435595774
 */
export function curvilinearTrapezoidDistribution(
  centre: number,
  halfWidth: number,
  halfWidthUncertainty: number,
): ProbabilityDistribution {
  requirePositive(halfWidth, 'half-width');
  requirePositive(halfWidthUncertainty, 'uncertainty of the half-width');
  if (!(halfWidthUncertainty < halfWidth)) {
    throw new InputError(
      `uncertainty of the half-width: found ${halfWidthUncertainty}, expected below the half-width ${halfWidth}`,
    );
  }
  const outer = halfWidth + halfWidthUncertainty;
  const inner = halfWidth - halfWidthUncertainty;
  const quarter = 1 / (4 * halfWidthUncertainty);
  const height = quarter * Math.log(outer / inner);
  const tailOf = (z: number): number => quarter * z * excess((outer - z) / z);
  const corner = tailOf(inner);
  return symmetricDistribution(centre, {
    standardDeviation: Math.sqrt(halfWidth ** 2 / 3 + halfWidthUncertainty ** 2 / 9),
    reach: outer,
    density: (z) => (z <= inner ? height : quarter * Math.log(outer / z)),
    tail: (z) => (z <= inner ? corner + height * (inner - z) : tailOf(z)),
    tailQuantile: (p) => (p >= corner ? inner - (p - corner) / height : solveTail(tailOf, p, inner, outer)),
  });
}

/** w − ln(1 + w) without loss of digits for small w. */
function excess(w: number): number {
  if (w > 0.01) return w - Math.log1p(w);
  let sum = 0;
  for (let power = 9; power >= 2; power--) sum = 1 / power - w * sum;
  return w * w * sum;
}

/** Bisection to the last bit; the tail falls from `low` to `high`. */
function solveTail(tail: (z: number) => number, p: number, low: number, high: number): number {
  let [from, to] = [low, high];
  for (;;) {
    const middle = (from + to) / 2;
    if (middle <= from || middle >= to) return middle;
    if (tail(middle) > p) from = middle;
    else to = middle;
  }
}
