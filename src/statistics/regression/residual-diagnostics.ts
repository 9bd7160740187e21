import { InputError, requireInteger } from '../../errors.js';

/** What residual diagnostics need of a fit: any line, polynomial or linear model has it. */
export interface FitWithResiduals {
  readonly residuals: readonly number[];
  readonly leverages: readonly number[];
  readonly weights: readonly number[];
  readonly parameters: number;
  readonly degreesOfFreedom: number;
  readonly residualStandardDeviation: number;
  readonly residualSumOfSquares: number;
}

/** One point's standing in a fit. */
export interface ResidualDiagnostic {
  readonly residual: number;
  readonly leverage: number;
  /** Residual over its own standard uncertainty, with the common s. */
  readonly standardised: number;
  /** The same with s estimated without the point: Student's t with ν − 1 degrees of freedom; Infinity where the others fit perfectly. */
  readonly studentised: number;
  /** Shift of all fitted values when the point is left out, in units of parameters·s². */
  readonly cooksDistance: number;
}

/**
 * Residuals, leverages, standardised and studentised residuals, and Cook's distances of a fit.
 *
 * Answers: which point lies far out, and which one pulls the curve? A point of leverage 1 fixes a parameter alone and has no residual.
 *
 * @throws InputError a perfect fit (residual standard deviation 0), fewer than 2 degrees of freedom, a point of leverage 1
 * @see Cook and Weisberg, Residuals and Influence in Regression, 1982, 2.2 and 3.1
 * @example
 * const points = { residuals: [0.02, 0.04, -0.14, 0.08], leverages: [0.7, 0.3, 0.3, 0.7], weights: [1, 1, 1, 1] };
 * const sums = { residualSumOfSquares: 0.028, residualStandardDeviation: Math.sqrt(0.014), degreesOfFreedom: 2 };
 * residualDiagnostics({ ...points, ...sums, parameters: 2 })[2].standardised // => -1.41421
 */
export function residualDiagnostics(fit: FitWithResiduals): ResidualDiagnostic[] {
  const s2 = fit.residualStandardDeviation ** 2;
  if (s2 === 0) throw new InputError('residuals: found a perfect fit, expected some scatter');
  requireInteger(fit.degreesOfFreedom, 'degrees of freedom', 2);
  return fit.residuals.map((residual, i) => {
    const leverage = fit.leverages[i]!;
    const rest = 1 - leverage;
    if (rest < 1e-12)
      throw new InputError(
        `point ${i + 1}: found leverage 1, expected each parameter to rest on more points`,
      );
    const squared = (fit.weights[i]! * residual * residual) / rest;
    const sign = Math.sign(residual);
    const without = (fit.residualSumOfSquares - squared) / (fit.degreesOfFreedom - 1);
    const perfect = !(without > fit.residualSumOfSquares * 1e-14);
    return {
      residual,
      leverage,
      standardised: sign * Math.sqrt(squared / s2),
      studentised: perfect ? sign * Number.POSITIVE_INFINITY : sign * Math.sqrt(squared / without),
      cooksDistance: (squared * leverage) / (rest * fit.parameters * s2),
    };
  });
}
