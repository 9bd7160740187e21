import { InputError, requirePositive, requireSameLength } from '../../errors.js';
import { fSurvival } from '../distributions/f.js';
import { lineVariance, type UncertainLineFit } from './uncertain-line.js';

/** Variance of the height of a line, with the degrees of freedom behind it. */
export interface LineHeightVariance {
  readonly variance: number;
  readonly degreesOfFreedom: number;
}

/** Test of the scatter about a line whose weights were estimated. */
export interface ScatterAboutLine {
  /** χ² ÷ c, to be compared with F. */
  readonly f: number;
  readonly degreesOfFreedomAbove: number;
  readonly degreesOfFreedomBelow: number;
  /** Probability of a scatter at least as large if line and uncertainties hold. */
  readonly pValue: number;
}

/** What a line is worth whose points have uncertainties estimated from few repeats. */
export interface EstimatedWeights {
  readonly heightVariance: (x: number) => LineHeightVariance;
  readonly scatter: ScatterAboutLine;
}

/**
 * Variance of the height of a line, and the test of the scatter about it, where the uncertainties that weight the points
 * rest on few repeats each.
 *
 * Estimated weights favour the points that happened to scatter little: the variance of the fit is then too small, and χ² too
 * large. The height's variance Σ c²v is raised by 4·Σ c²v(1 − w·h)/(ν − 2), where h is the variance of the line at the point:
 * Meier's term, with ν − 2 for his ν because the mean of 1/s² is ν/(ν − 2) of its true value (ν/2 where ν is below 4). Its
 * degrees of freedom are Welch–Satterthwaite's of Σ c²v. χ² ÷ c is compared with F of n − 2 and (n − 2)n/(3A), A = Σ (1 − w·h)²/ν,
 * c = n − 2 + 2A − 6A/n. With ν = Infinity both are the fit's own.
 *
 * @param variances n variances of the points across the line, w⁻¹ = u²(y) + slope²·u²(x), in the squared unit of y
 * @param degreesOfFreedom n numbers above 0, Infinity included: of each of these variances
 * @throws InputError lists that are not as long as the fit has points, a variance or number of degrees of freedom not above 0
 * @see Meier 1953, Biometrics 9, 59; Johansen 1980, Biometrika 67, 85; for means: Welch 1951, Biometrika 38, 330
 */
export function estimatedWeights(
  fit: UncertainLineFit,
  variances: readonly number[],
  degreesOfFreedom: readonly number[],
): EstimatedWeights {
  requireSameLength(fit.adjustedX, 'points', variances, 'variances');
  requireSameLength(fit.adjustedX, 'points', degreesOfFreedom, 'degrees of freedom');
  for (const [i, variance] of variances.entries()) {
    requirePositive(variance, `variance ${i + 1}`);
    if (!(degreesOfFreedom[i]! > 0))
      throw new InputError(`degrees of freedom ${i + 1}: found ${degreesOfFreedom[i]}, expected above 0`);
  }
  /** 1 − w·h: what a point keeps of its own variance after the line was laid through it. */
  const kept = variances.map((variance, i) => 1 - lineVariance(fit, fit.adjustedX[i]!) / variance);
  return {
    heightVariance: (x) => {
      const parts = variances.map((variance, i) => {
        const lever = (x - fit.xCentre) * (fit.adjustedX[i]! - fit.xCentre) * fit.varianceSlope;
        return (fit.varianceCentre + lever) ** 2 / variance;
      });
      const plain = parts.reduce((a, b) => a + b, 0);
      const raised = parts.reduce((sum, part, i) => {
        const nu = degreesOfFreedom[i]!;
        return sum + (4 * part * kept[i]!) / Math.max(nu - 2, nu / 2);
      }, plain);
      const spread = parts.reduce((sum, part, i) => sum + part ** 2 / degreesOfFreedom[i]!, 0);
      return { variance: raised, degreesOfFreedom: spread > 0 ? plain ** 2 / spread : Infinity };
    },
    scatter: scatterOf(
      fit,
      kept.reduce((sum, share, i) => sum + share ** 2 / degreesOfFreedom[i]!, 0),
    ),
  };
}

function scatterOf(fit: UncertainLineFit, a: number): ScatterAboutLine {
  const above = fit.degreesOfFreedom;
  const below = a > 0 ? (above * (above + 2)) / (3 * a) : Infinity;
  const f = fit.chiSquared / (above + 2 * a - (6 * a) / (above + 2));
  return {
    f,
    degreesOfFreedomAbove: above,
    degreesOfFreedomBelow: below,
    pValue: fSurvival(f, above, below),
  };
}
