import type { Calibration } from '../../chain/calibration.js';

/** A calibration as its results take it in. */
export interface LineCalibration {
  readonly intercept: number;
  readonly slope: number;
  readonly standardUncertainties: { readonly intercept: number; readonly slope: number };
  readonly correlation: number;
}

export function lineCalibration(calibration: Calibration): LineCalibration {
  const { intercept, slope, varianceIntercept, varianceSlope, covariance } = calibration;
  const sigma = Math.sqrt(varianceIntercept * varianceSlope);
  const correlation = sigma > 0 ? covariance / sigma : 0;
  const standardUncertainties = { intercept: Math.sqrt(varianceIntercept), slope: Math.sqrt(varianceSlope) };
  return { intercept, slope, standardUncertainties, correlation };
}
