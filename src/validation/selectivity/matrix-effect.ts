import { requirePositive } from '../../errors.js';
import type { LineFit } from '../../statistics/regression/line.js';
import { limitsOfEstimate, scaleLimits } from '../confidence-limits.js';
import type { ConfidenceLimits, Finding, RowReference } from '../finding.js';
import { type FindingOptions, makeFinding } from '../make-finding.js';
import { scaleOf } from '../scale.js';

export interface MatrixEffectOptions extends Omit<FindingOptions, 'unit'> {
  readonly rows: readonly RowReference[];
}

/** Ratio of the sensitivity in the matrix to that of the external calibration. */
export interface MatrixEffect {
  readonly finding: Finding;
  readonly ratio: number;
  readonly standardUncertainty: number;
  readonly degreesOfFreedom: number;
  readonly limits: ConfidenceLimits;
}

/**
 * Matrix effect by slopes: sensitivity of standard additions to a sample's solution ÷ sensitivity of the external calibration.
 *
 * Finds multiplicative effects only. An additive overlap leaves the slope as it is: it takes the interference-check solution,
 * a second line, or reference materials at two levels.
 *
 * @param additions line of the standard additions; `external` line of the calibration of the same run
 * @throws InputError a slope not above 0
 * @see Eurachem, Fitness for Purpose 2014, 6.1 (clause from memory); JCGM 100:2008 (GUM), 5.1 (ratio of two estimates)
 */
export function matrixEffect(
  additions: LineFit,
  external: LineFit,
  options: MatrixEffectOptions,
): MatrixEffect {
  requirePositive(additions.slope, 'slope of the standard additions');
  requirePositive(external.slope, 'slope of the external calibration');
  const ratio = additions.slope / external.slope;
  const [a, b] = [
    additions.varianceSlope / additions.slope ** 2,
    external.varianceSlope / external.slope ** 2,
  ];
  const standardUncertainty = ratio * Math.sqrt(a + b);
  const parts = a ** 2 / additions.degreesOfFreedom + b ** 2 / external.degreesOfFreedom;
  const degreesOfFreedom = parts > 0 ? (a + b) ** 2 / parts : Number.POSITIVE_INFINITY;
  const limits = limitsOfEstimate(ratio, standardUncertainty, degreesOfFreedom);
  const scale = scaleOf(options.criterion, 'ratio', 1);
  const finding = makeFinding(
    'matrix effect',
    { ...options, unit: scale.unit },
    {
      quantity: 'sensitivity in the matrix ÷ sensitivity of the external calibration',
      unit: scale.unit,
      estimate: ratio * scale.factor,
      limits: scaleLimits(limits, scale.factor),
      degreesOfFreedom,
      n: additions.n + external.n,
      clause: 'Eurachem, Fitness for Purpose 2014, 6.1 (clause from memory)',
      method: 'ratio of two slopes by the law of propagation, degrees of freedom by Welch–Satterthwaite',
      rows: options.rows,
      notes: [
        'Slopes show multiplicative effects only; an additive overlap needs the interference-check solution.',
      ],
      remedy: 'More additions over a wider range narrow the limits.',
    },
  );
  return { finding, ratio, standardUncertainty, degreesOfFreedom, limits };
}
