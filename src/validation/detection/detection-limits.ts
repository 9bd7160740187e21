import { requireInteger, requireNonNegative, requirePositive, requireProbability } from '../../errors.js';
import { detectionDelta } from '../../statistics/distributions/noncentral-t.js';
import { studentTQuantile } from '../../statistics/distributions/student-t.js';
import type { ConfidenceLimits } from '../finding.js';
import { noScatter } from '../no-scatter.js';
import type { BlankSpread } from './blank-spreads.js';

/** What the spread handed in is: that of one blank, all independent, or already that of a result with its blank subtracted. */
export type DetectionOptions = CommonDetectionOptions &
  (
    | {
        readonly spreadIs?: 'of one blank';
        /** Digestions whose mean the routine reports. */
        readonly digestionsPerResult: number;
        /** Blanks whose mean the routine subtracts. */
        readonly blanksPerResult: number;
      }
    | { readonly spreadIs: 'of a result' }
  );

export interface CommonDetectionOptions {
  /** Probability of a false detection and of a missed one; 0.05 where not given. */
  readonly alpha?: number;
  readonly beta?: number;
  /** Standard uncertainty of the interference correction at content 0, in the unit of the blanks. */
  readonly correctionStandardUncertainty?: number;
  /** Mass fraction in the solid per unit of the blanks; 1 where they are already in the solid. */
  readonly solidPerUnit?: number;
}

/** One limit, in the unit of the blanks (solution) and in the solid. */
export interface ContentLimit {
  readonly inSolution: number;
  readonly inSolid: number;
}

/** Decision limit and detection limit from the spread of the blanks; null where the blanks do not scatter at all. */
export interface DetectionLimits {
  /** Standard deviation of a result at content 0 with its blank subtracted, and its degrees of freedom. */
  readonly standardDeviationAtZero: ContentLimit;
  readonly degreesOfFreedom: number;
  readonly decisionLimit: ContentLimit | null;
  readonly detectionLimit: ContentLimit | null;
  /** Why there are no limits; null where there are. */
  readonly missing: string | null;
  /** Limits of the detection limit in the solid that the χ² interval of the blanks' spread gives. */
  readonly detectionLimits95: ConfidenceLimits | null;
  /** The same for the standard deviation at content 0, in the solid. */
  readonly standardDeviationLimits95: ConfidenceLimits;
  readonly t: number;
  readonly delta: number;
  readonly alpha: number;
  readonly beta: number;
  readonly method: string;
  readonly notes: readonly string[];
}

/**
 * Decision limit y_C = t·σ₀ and detection limit δ(ν, α, β)·σ₀, with σ₀ = s_b·√(1/m + 1/n_b), or the spread of a result at content
 * 0 that `blankSpreads` gives for blanks of several runs, widened by the correction.
 *
 * Blanks without any scatter were cut or rounded: a limit of 0, or of the correction alone, would call everything detected.
 *
 * δ comes from the noncentral t distribution: with σ estimated from few blanks it is not 3.3. The limit is itself an
 * estimate: at the estimated limit false negatives are not exactly β, so its interval is carried.
 *
 * @throws InputError a count below 1, a probability outside 0 to 1, a negative uncertainty
 * @see Currie 1995, IUPAC Recommendations, Pure Appl. Chem. 67, 1699; ISO 11843-2:2000, 5 (clause from memory)
 */
export function detectionLimits(spread: BlankSpread, options: DetectionOptions): DetectionLimits {
  const { alpha = 0.05, beta = 0.05, correctionStandardUncertainty = 0, solidPerUnit = 1 } = options;
  requireProbability(alpha, 'alpha');
  requireProbability(beta, 'beta');
  requireNonNegative(correctionStandardUncertainty, 'standard uncertainty of the correction');
  requirePositive(solidPerUnit, 'mass fraction in the solid per unit in solution');
  const share = shareOf(options);
  const atZero = (s: number) => Math.hypot(s * Math.sqrt(share), correctionStandardUncertainty);
  const sigma = atZero(spread.standardDeviation);
  const random = spread.standardDeviation ** 2 * share;
  const degreesOfFreedom =
    random > 0 ? (sigma ** 4 * spread.degreesOfFreedom) / random ** 2 : spread.degreesOfFreedom;
  const t = studentTQuantile(1 - alpha, degreesOfFreedom);
  const delta = detectionDelta(degreesOfFreedom, alpha, beta);
  const both = (value: number) => ({ inSolution: value, inSolid: value * solidPerUnit });
  const map = (factor: number): ConfidenceLimits => ({
    lowerOneSided: factor * atZero(spread.limits.lowerOneSided),
    upperOneSided: factor * atZero(spread.limits.upperOneSided),
    low: factor * atZero(spread.limits.low),
    high: factor * atZero(spread.limits.high),
  });
  const flat = spread.standardDeviation === 0;
  return {
    standardDeviationAtZero: both(sigma),
    degreesOfFreedom,
    decisionLimit: flat ? null : both(t * sigma),
    detectionLimit: flat ? null : both(delta * sigma),
    missing: flat ? noScatter('The blanks', 'no limit can be worked out') : null,
    detectionLimits95: flat ? null : map(delta * solidPerUnit),
    standardDeviationLimits95: map(solidPerUnit),
    t,
    delta,
    alpha,
    beta,
    method:
      'Currie: t for the decision limit, noncentral t for the detection limit, spread of procedure blanks',
    notes: [
      'The detection limit is an estimate: at the estimated limit the share of missed detections is not exactly beta.',
    ],
  };
}

/** Variance of a result at content 0 as a share of that of the spread handed in. */
function shareOf(options: DetectionOptions): number {
  if (options.spreadIs === 'of a result') return 1;
  requireInteger(options.digestionsPerResult, 'digestions of a result', 1);
  requireInteger(options.blanksPerResult, 'blanks of a result', 1);
  return 1 / options.digestionsPerResult + 1 / options.blanksPerResult;
}
