import { InputError, requireNonNegative, requirePositive } from '../errors.js';
import { fitLine, type LineFit } from '../statistics/regression/line.js';

/** One standard solution of a run: content and mean signal ratio. */
export interface CalibrationPoint {
  readonly solution: string;
  /** mg/kg (or mg/L where the study calibrates so). */
  readonly content: number;
  /** Standard uncertainty of this solution's own preparation, in the unit of the content. */
  readonly preparationUncertainty: number;
  /** Mean signal ratio; times the content of the internal standard where that is known from masses. */
  readonly ratio: number;
}

/** Standard deviation of one mean signal as a content: √(floor² + (relative·x)²). */
export interface SignalModel {
  readonly floor: number;
  readonly relative: number;
}

/** Calibration function of one analyte line in one run: ratio = intercept + slope · content. */
export interface Calibration {
  readonly run: string;
  readonly analyte: string;
  readonly lineNm: number;
  /** Unit of the contents; absent: mg/kg. */
  readonly unit?: 'mg/kg' | 'mg/L';
  readonly points: readonly CalibrationPoint[];
  readonly fit: LineFit;
  readonly intercept: number;
  readonly slope: number;
  readonly varianceIntercept: number;
  readonly varianceSlope: number;
  readonly covariance: number;
  /** Of the residual standard deviation behind the variances: N − 2, or the sum over runs once pooled. */
  readonly degreesOfFreedom: number;
}

/**
 * Weighted straight line through the standards of one run. Weights are the inverse variances of the content by the
 * signal model and each solution's preparation, so that low standards are not drowned by high ones.
 *
 * @throws InputError fewer than three standards, fewer than two different contents, a slope that is not above 0
 * @see ISO 8466-1:2021 and ISO/TS 28037:2010, clause 6 (weighted least squares), from memory
 */
export function calibrate(
  run: string,
  analyte: string,
  lineNm: number,
  points: readonly CalibrationPoint[],
  signal: SignalModel,
  unit: 'mg/kg' | 'mg/L' = 'mg/kg',
): Calibration {
  requirePositive(signal.floor, `signal floor of ${analyte}`);
  requireNonNegative(signal.relative, `relative signal standard deviation of ${analyte}`);
  if (points.length < 3) {
    throw new InputError(
      `calibration of ${analyte} ${lineNm} nm in run ${run}: found ${points.length} standards, expected at least 3`,
    );
  }
  const [contents, ratios, weights]: [number[], number[], number[]] = [[], [], []];
  for (const { content, preparationUncertainty, ratio } of points) {
    contents.push(content);
    ratios.push(ratio);
    weights.push(1 / (signal.floor ** 2 + (signal.relative * content) ** 2 + preparationUncertainty ** 2));
  }
  const fit = fitLine(contents, ratios, weights);
  if (!(fit.slope > 0)) {
    throw new InputError(
      `calibration of ${analyte} ${lineNm} nm in run ${run}: found slope ${fit.slope}, expected above 0`,
    );
  }
  return {
    run,
    analyte,
    lineNm,
    unit,
    points,
    fit,
    intercept: fit.intercept,
    slope: fit.slope,
    varianceIntercept: fit.varianceIntercept,
    varianceSlope: fit.varianceSlope,
    covariance: fit.covariance,
    degreesOfFreedom: fit.degreesOfFreedom,
  };
}

/**
 * The calibrations of one analyte line over the runs of a study with their residual variance pooled relative to the
 * slope: a single run's N − 2 degrees of freedom say little about it.
 *
 * @throws InputError no calibration
 * @see pooling of variances: GUM (JCGM 100:2008) 4.2.4
 */
export function poolCalibrations(calibrations: readonly Calibration[]): Calibration[] {
  if (calibrations.length === 0)
    throw new InputError('calibrations to pool: found none, expected at least one');
  const relativeVariance = (c: Calibration) => (c.fit.residualStandardDeviation / c.slope) ** 2;
  const degreesOfFreedom = calibrations.reduce((sum, c) => sum + c.fit.degreesOfFreedom, 0);
  const pooled =
    calibrations.reduce((sum, c) => sum + c.fit.degreesOfFreedom * relativeVariance(c), 0) / degreesOfFreedom;
  return calibrations.map((c) => {
    const own = relativeVariance(c);
    if (own === 0) return { ...c, degreesOfFreedom };
    const scale = pooled / own;
    return {
      ...c,
      varianceIntercept: c.fit.varianceIntercept * scale,
      varianceSlope: c.fit.varianceSlope * scale,
      covariance: c.fit.covariance * scale,
      degreesOfFreedom,
    };
  });
}

/** Content whose signal ratio is `ratio`, in the unit of the calibration's contents. */
export function contentOfRatio(calibration: Pick<Calibration, 'intercept' | 'slope'>, ratio: number): number {
  return (ratio - calibration.intercept) / calibration.slope;
}
