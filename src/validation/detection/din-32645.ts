import { InputError, requireInteger, requirePositive, requireProbability } from '../../errors.js';
import { studentTQuantile } from '../../statistics/distributions/student-t.js';
import type { LineFit } from '../../statistics/regression/line.js';
import { requireOrdinary } from './hubaux-vos.js';

export interface Din32645Options {
  /** Readings averaged for a sample; 1 where not given. */
  readonly readings?: number;
  /** 0.05 where not given; the standard's own default is 0.01. */
  readonly alpha?: number;
  /** 1/k is the relative half-width of the interval wanted at the limit of quantification; 3 where not given. */
  readonly k?: number;
}

/** Limits by the calibration method of DIN 32645, in the unit of x. */
export interface Din32645 {
  readonly decisionLimit: number;
  /** Twice the decision limit. */
  readonly detectionLimit: number;
  /** Content at which the two-sided interval is x ± x/k; null where none exists. */
  readonly quantificationLimit: number | null;
  readonly alpha: number;
  readonly k: number;
}

/**
 * Limits by the calibration method: decision limit s_x0·t_α·√(1/m + 1/n + x̄²/Q_x), detection limit twice this, and the
 * quantification limit where x_BG = k·s_x0·t_{α/2}·√(1/m + 1/n + (x_BG − x̄)²/Q_x).
 *
 * @param fit calibration line by ordinary least squares, close to content 0
 * @throws InputError a weighted fit, a slope not above 0, a count or factor that cannot be
 * @see DIN 32645:2008-11 (clauses from memory)
 */
export function din32645(fit: LineFit, options: Din32645Options = {}): Din32645 {
  const { readings = 1, alpha = 0.05, k = 3 } = options;
  requireInteger(readings, 'readings', 1);
  requireProbability(alpha, 'alpha');
  requirePositive(k, 'k');
  requireOrdinary(fit);
  if (fit.degreesOfFreedom < 1) throw new InputError('calibration line: found no degrees of freedom');
  const { xMean, sumOfSquaresX: q, n } = fit;
  const inX = fit.residualStandardDeviation / fit.slope;
  const share = 1 / readings + 1 / n;
  const decisionLimit =
    inX * studentTQuantile(1 - alpha, fit.degreesOfFreedom) * Math.sqrt(share + xMean ** 2 / q);
  const reach = k * inX * studentTQuantile(1 - alpha / 2, fit.degreesOfFreedom);
  return {
    decisionLimit,
    detectionLimit: 2 * decisionLimit,
    quantificationLimit: rootOf(reach ** 2, share, xMean, q),
    alpha,
    k,
  };
}

/** Positive root of x² = r·(share + (x − x̄)²/q); null where the band widens faster than x. */
function rootOf(r: number, share: number, xMean: number, q: number): number | null {
  const a = 1 - r / q;
  if (a <= 0) return null;
  const halfB = (r * xMean) / q;
  return (-halfB + Math.sqrt(halfB ** 2 + a * r * (share + xMean ** 2 / q))) / a;
}
