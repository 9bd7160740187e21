import { iterateWinsorised, type RobustEstimate } from './robust-estimate.js';

/** Robust average x*, robust standard deviation s*, and the standard uncertainty of the average. */
export interface AlgorithmA extends RobustEstimate {
  /** 1.25·s* divided by √p: the standard uncertainty of the robust average as an assigned value. */
  readonly standardUncertainty: number;
}

/**
 * Algorithm A: robust average and standard deviation of results from p laboratories, replicates or rounds.
 *
 * Starts at the median and 1.483 times the median absolute deviation; values beyond x* ± 1.5 s* are pulled in;
 * s* = 1.134 times the standard deviation of what results; repeated to convergence in double precision.
 *
 * @param values p ≥ 2 finite values in one unit
 * @returns x* and s* in the unit of the data
 * @throws InputError fewer than two values, one that is not finite, a scale beyond 1.8e308, or no convergence
 * @see ISO 13528:2015 and 2022, C.3.1 (clause from memory)
 * @example
 * algorithmA([1, 2, 3, 4, 100]).location // => 4.035992
 */
export function algorithmA(values: ArrayLike<number>): AlgorithmA {
  const estimate = iterateWinsorised(values, {
    method: 'Algorithm A (ISO 13528)',
    startFactor: 1.483,
    limitFactor: 1.5,
    scaleFactor: 1.134,
  });
  return { ...estimate, standardUncertainty: (1.25 * estimate.scale) / Math.sqrt(estimate.n) };
}
