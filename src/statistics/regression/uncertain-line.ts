import { CompensatedSum } from '../descriptive/compensated-sum.js';

/** A straight line with the covariance of its parameters, stated at the origin and at its centre. */
export interface UncertainLine {
  readonly intercept: number;
  readonly slope: number;
  readonly varianceIntercept: number;
  readonly varianceSlope: number;
  /** Covariance of intercept and slope. */
  readonly covariance: number;
  /** x at which the line is best known: there its height and its slope are not correlated. */
  readonly xCentre: number;
  /** Height of the line at its centre. */
  readonly yCentre: number;
  /** Variance of that height. */
  readonly varianceCentre: number;
}

/** A straight line fitted to points with stated uncertainties: its covariance rests on them, not on the scatter. */
export interface UncertainLineFit extends UncertainLine {
  /** Observed χ²: weighted sum of squares left over. */
  readonly chiSquared: number;
  readonly degreesOfFreedom: number;
  /** Probability of a χ² at least as large if line and uncertainties hold. */
  readonly pValue: number;
  /** Estimates of the true x. */
  readonly adjustedX: readonly number[];
  readonly n: number;
  readonly iterations: number;
  readonly method: string;
  readonly notes: readonly string[];
}

/** Notes of a fit whose χ² is beyond the 95 % quantile. */
export function consistencyNotes(pValue: number): string[] {
  return pValue < 0.05
    ? [
        'χ² exceeds its 95 % quantile: the scatter about the line is larger than the stated uncertainties allow.',
      ]
    : [];
}

/** The parameters at the origin of a line known at its centre. */
export function lineThroughCentre(
  line: Pick<UncertainLine, 'slope' | 'varianceSlope' | 'xCentre' | 'yCentre' | 'varianceCentre'>,
): UncertainLine {
  const { slope, varianceSlope, xCentre, yCentre, varianceCentre } = line;
  return {
    intercept: new CompensatedSum().add(yCentre).addProduct(-slope, xCentre).value(),
    slope,
    varianceIntercept: varianceCentre + xCentre * xCentre * varianceSlope,
    varianceSlope,
    covariance: -xCentre * varianceSlope,
    xCentre,
    yCentre,
    varianceCentre,
  };
}

/** Height of a line at x. */
export function lineHeight(line: UncertainLine, x: number): number {
  return line.yCentre + line.slope * (x - line.xCentre);
}

/** Variance of the height of a line at x: a sum of squares, where that over intercept and covariance is a difference. */
export function lineVariance(line: UncertainLine, x: number): number {
  return line.varianceCentre + (x - line.xCentre) ** 2 * line.varianceSlope;
}
