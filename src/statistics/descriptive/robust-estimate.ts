import { InputError, requireFinite } from '../../errors.js';
import { mean } from './mean.js';
import { median } from './median.js';
import { requireWithinRange } from './require-within-range.js';
import { scaledMedianAbsoluteDeviation } from './scaled-median-absolute-deviation.js';
import { standardDeviation } from './standard-deviation.js';

/** Location and scale of data that may hold outliers, in the unit of the data. */
export interface RobustEstimate {
  readonly location: number;
  readonly scale: number;
  readonly n: number;
  readonly iterations: number;
  readonly method: string;
  readonly notes: readonly string[];
}

/** Constants of an iteration that pulls values beyond location ± k·scale in to that limit. */
export interface WinsorisedIteration {
  readonly method: string;
  /** Factor of the median absolute deviation that starts the scale. */
  readonly startFactor: number;
  /** k. */
  readonly limitFactor: number;
  /** Factor of the standard deviation of the pulled-in values that gives the next scale. */
  readonly scaleFactor: number;
}

/**
 * Iterates location = mean and scale = factor × standard deviation of the values pulled in to location ± k·scale, until
 * neither moves any more. Works on deviations from the median, so that a common offset costs no digits.
 *
 * @throws InputError fewer than two values, one that is not finite, a scale beyond 1.8e308, or no convergence within 2000 steps
 */
export function iterateWinsorised(values: ArrayLike<number>, rule: WinsorisedIteration): RobustEstimate {
  requireFinite(values, 'values', 2);
  const centre = median(values);
  const notes: string[] = [];
  const shifted = Float64Array.from(values, (x) =>
    requireWithinRange(x - centre, 'the deviation from the median', 'below 1e307'),
  );
  let location = 0;
  let scale = scaledMedianAbsoluteDeviation(values, rule.startFactor);
  if (scale === 0) notes.push('more than half of the values are equal: the scale stays at 0');
  const result = { n: values.length, method: rule.method, notes };
  for (let iterations = 1; iterations <= 2000; iterations++) {
    const next = pullIn(shifted, location, scale, rule);
    const moved = Math.max(Math.abs(next.location - location), Math.abs(next.scale - scale));
    location = next.location;
    scale = next.scale;
    if (moved <= 1e-15 * scale || scale < 1e-300)
      return { location: centre + location, scale, iterations, ...result };
  }
  throw new InputError(`values: found no convergence of ${rule.method}, expected data without extreme ties`);
}

function pullIn(
  shifted: Float64Array,
  location: number,
  scale: number,
  rule: WinsorisedIteration,
): { location: number; scale: number } {
  const limit = rule.limitFactor * scale;
  const pulled = shifted.map((x) => Math.min(location + limit, Math.max(location - limit, x)));
  const scaled = requireWithinRange(
    rule.scaleFactor * standardDeviation(pulled),
    'the robust standard deviation',
    'below 1e307',
  );
  return { location: mean(pulled), scale: scaled };
}
