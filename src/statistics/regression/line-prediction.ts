import { requireFinite, requirePositive, requireProbability } from '../../errors.js';
import { studentTQuantile } from '../distributions/student-t.js';
import type { Interval } from '../interval.js';
import type { LineFit } from './line.js';

/** What a line says of y at one x. */
export interface LinePrediction {
  readonly y: number;
  /** Standard uncertainty of the line at x. */
  readonly standardUncertainty: number;
  readonly degreesOfFreedom: number;
  /** Confidence interval of the line at x. */
  readonly confidence: Interval;
  /** Prediction interval of the mean of m new readings at x. */
  readonly prediction: Interval;
  readonly method: string;
  readonly notes: readonly string[];
}

/** Settings of a prediction from a line. */
export interface LinePredictionOptions {
  /** Number of new readings averaged. Default 1. */
  readonly m?: number;
  /** Weight of one new reading on the scale of the fit's weights. Default 1. */
  readonly weight?: number;
  readonly coverage?: number;
}

/**
 * Value of a fitted line at x, with its confidence interval and the prediction interval of new readings.
 *
 * @throws InputError x not finite, m or weight not above 0, coverage outside (0, 1)
 * @see GUM (JCGM 100:2008), H.3.4; Draper and Smith, Applied Regression Analysis, 3rd ed. 1998, 3.1
 * @example
 * const centre = { xMean: 1.5, yMean: 3, sumOfWeights: 4, sumOfSquaresX: 5 };
 * const line = { ...centre, slope: 2, residualStandardDeviation: 0.1, degreesOfFreedom: 2, method: 'least squares' };
 * predictFromLine(line, 2).y // => 4
 */
export function predictFromLine(
  fit: LineFit,
  x: number,
  options: LinePredictionOptions = {},
): LinePrediction {
  const { m = 1, weight = 1, coverage = 0.95 } = options;
  requireFinite([x], 'x');
  requirePositive(m, 'number of readings');
  requirePositive(weight, 'weight');
  requireProbability(coverage, 'coverage');
  const distance = x - fit.xMean;
  const y = fit.yMean + fit.slope * distance;
  const ofLine = 1 / fit.sumOfWeights + distance ** 2 / fit.sumOfSquaresX;
  const s = fit.residualStandardDeviation;
  const t = studentTQuantile((1 + coverage) / 2, fit.degreesOfFreedom);
  const band = t * s * Math.sqrt(ofLine);
  const reach = t * s * Math.sqrt(ofLine + 1 / (m * weight));
  return {
    y,
    standardUncertainty: s * Math.sqrt(ofLine),
    degreesOfFreedom: fit.degreesOfFreedom,
    confidence: { low: y - band, high: y + band, coverage },
    prediction: { low: y - reach, high: y + reach, coverage },
    method: `prediction from a line by ${fit.method}`,
    notes: [],
  };
}
