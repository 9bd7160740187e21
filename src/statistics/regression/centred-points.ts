import { mean } from '../descriptive/mean.js';

/** Points as seen from their centre: far from the origin only the deviations tell a line. */
export interface CentredPoints {
  /** Mean of x, rounded once; it is taken off every x. */
  readonly xOrigin: number;
  readonly yOrigin: number;
  readonly x: readonly number[];
  readonly y: readonly number[];
  /** Range of y over range of x: the size a slope can have, by which its last digits are judged. */
  readonly steepness: number;
}

/** Takes the means off, so that sums of squares and the search for a slope do not lose the digits an offset occupies. */
export function centredPoints(x: readonly number[], y: readonly number[]): CentredPoints {
  const [xOrigin, yOrigin] = [mean(x), mean(y)];
  const range = (values: readonly number[]) => Math.max(...values) - Math.min(...values);
  return {
    xOrigin,
    yOrigin,
    x: x.map((value) => value - xOrigin),
    y: y.map((value) => value - yOrigin),
    steepness: range(y) / range(x),
  };
}

/** True where a slope has settled: the step is at its last digit, or small and no longer falling for rounding. */
export function slopeSettled(change: number, last: number, slope: number, steepness: number): boolean {
  const size = Math.max(Math.abs(slope), steepness);
  return change <= 1e-15 * size || (change < 1e-11 * size && change >= last);
}
