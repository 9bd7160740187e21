import { InputError, requireFinite, requirePositive, requireProbability } from '../../errors.js';
import { studentTQuantile } from '../distributions/student-t.js';
import type { Interval } from '../interval.js';
import type { LineFit } from './line.js';

/** The x that belongs to a mean response. */
export interface InversePrediction {
  readonly x: number;
  readonly standardUncertainty: number;
  readonly degreesOfFreedom: number;
  /** x ± t·u, symmetric. */
  readonly wald: Interval;
  /** Fieller's limits, exact under normality; −Infinity and Infinity where the slope does not differ from 0. */
  readonly fieller: Interval;
  /** g = (t·u(slope)/slope)²: at 1 and above the slope does not differ from 0 and the limits are unbounded. */
  readonly g: number;
  readonly method: string;
  readonly notes: readonly string[];
}

/** Settings of an inverse prediction. */
export interface InversePredictionOptions {
  /** Weight of one new reading on the scale of the fit's weights: its variance is s²/weight. Default 1. */
  readonly weight?: number;
  /** Coverage probability of the intervals. Default 0.95. */
  readonly coverage?: number;
}

/**
 * Inverse prediction from a calibration line, with standard uncertainty and Fieller limits.
 *
 * Answers: which x gave this mean response of m readings? Covers calibration and reading only; uncertainty of the
 * standards is not in it. u² = (s/b)²·(1/(m·weight) + 1/Σw + (x − x̄)²/S_xx).
 *
 * @param fit line by ordinary or weighted least squares
 * @param meanResponse mean of the m new readings, in the unit of y
 * @param m number of new readings, m > 0
 * @throws InputError response not finite, m or weight not above 0, slope 0
 * @see ISO 11095:1996; Draper and Smith, Applied Regression Analysis, 3rd ed. 1998, 3.2; EURACHEM/CITAC QUAM:2012, E.4
 * @example
 * const centre = { xMean: 1.5, yMean: 3, sumOfWeights: 4, sumOfSquaresX: 5 };
 * const line = { ...centre, slope: 2, residualStandardDeviation: 0.1, degreesOfFreedom: 2, method: 'least squares' };
 * inversePrediction(line, 3.5, 2).x // => 1.75
 */
export function inversePrediction(
  fit: LineFit,
  meanResponse: number,
  m: number,
  options: InversePredictionOptions = {},
): InversePrediction {
  const { weight = 1, coverage = 0.95 } = options;
  requireFinite([meanResponse], 'mean response');
  requirePositive(m, 'number of readings');
  requirePositive(weight, 'weight');
  requireProbability(coverage, 'coverage');
  if (fit.slope === 0) throw new InputError('slope: found 0, expected a line that rises or falls');
  const distance = (meanResponse - fit.yMean) / fit.slope;
  const x = fit.xMean + distance;
  const scale = fit.residualStandardDeviation / Math.abs(fit.slope);
  const base = 1 / (m * weight) + 1 / fit.sumOfWeights;
  const u = scale * Math.sqrt(base + distance ** 2 / fit.sumOfSquaresX);
  const t = studentTQuantile((1 + coverage) / 2, fit.degreesOfFreedom);
  const g = (t * scale) ** 2 / fit.sumOfSquaresX;
  return {
    x,
    standardUncertainty: u,
    degreesOfFreedom: fit.degreesOfFreedom,
    wald: { low: x - t * u, high: x + t * u, coverage },
    fieller: { ...fiellerLimits(fit, distance, base, t * scale, g), coverage },
    g,
    method: `inverse prediction from a line by ${fit.method}`,
    notes: g < 1 ? [] : ['The slope does not differ significantly from 0: Fieller limits are unbounded.'],
  };
}

/** Roots of (y₀ − ȳ − b·η)² = t²s²(base + η²/S_xx), as distances η from the mean of x. */
function fiellerLimits(
  fit: LineFit,
  distance: number,
  base: number,
  reach: number,
  g: number,
): { low: number; high: number } {
  if (g >= 1) return { low: Number.NEGATIVE_INFINITY, high: Number.POSITIVE_INFINITY };
  const half = reach * Math.sqrt(base * (1 - g) + distance ** 2 / fit.sumOfSquaresX);
  return { low: fit.xMean + (distance - half) / (1 - g), high: fit.xMean + (distance + half) / (1 - g) };
}
