import { InputError, requireInteger, requirePositive } from '../../errors.js';
import {
  type EstimatedWeights,
  estimatedWeights,
  type ScatterAboutLine,
} from '../../statistics/regression/estimated-weights.js';
import { lineHeight, type UncertainLineFit } from '../../statistics/regression/uncertain-line.js';
import { york } from '../../statistics/regression/york.js';
import { limitsOfEstimate, scaleLimits } from '../confidence-limits.js';
import type { ConfidenceLimits, Finding } from '../finding.js';
import { type FindingOptions, makeFinding } from '../make-finding.js';
import { leastDays } from '../precision/precision.js';
import { scaleOf } from '../scale.js';
import { verdictAgainst } from '../verdict.js';

/** One reference material: what is certified and what was found, in one unit. */
export interface MaterialPoint {
  readonly material: string;
  readonly certified: number;
  readonly certifiedStandardUncertainty: number;
  readonly found: number;
  /** Of the mean found, from the scatter of its days: it has one degree of freedom fewer than there are days. */
  readonly foundStandardUncertainty: number;
  /** At least 2. */
  readonly days: number;
  readonly digestions: readonly string[];
}

/** Bias read off the line at one content, in the unit of the results. */
export interface BiasAtLevel {
  readonly content: number;
  readonly bias: number;
  readonly standardUncertainty: number;
  readonly degreesOfFreedom: number;
  readonly limits: ConfidenceLimits;
}

/** Trueness over a range by several reference materials. */
export interface SeveralMaterials {
  readonly finding: Finding;
  readonly fit: UncertainLineFit;
  /** At the lowest and the highest certified value. */
  readonly levels: readonly BiasAtLevel[];
  /** Test of the scatter about the line, with the uncertainties of the means known from their days only. */
  readonly scatter: ScatterAboutLine;
  /** The points agree with the line within their uncertainties. */
  readonly consistent: boolean;
}

/**
 * Bias as a function of content from several reference materials: found against certified by regression with uncertainties on
 * both axes. Bias(w) = intercept + (slope − 1)·w with its covariance; the worse end of the range is judged.
 *
 * The means found are known from a few days each, so their weights are estimates: `estimatedWeights` gives the variance of the
 * line its degrees of freedom, and the test of the scatter. Fewer than 5 days at one material show nothing, as for one material.
 *
 * Where the points scatter about the line by more than their uncertainties allow, one of the values or a matrix effect is not
 * understood and nothing is shown.
 *
 * @param points at least 3 materials of different content
 * @throws InputError fewer than 3 materials, a certified value not above 0, fewer than 2 days
 * @see ISO/TS 28037:2010, 7; York and others 2004, Am. J. Phys. 72, 367; ISO 33403:2024
 */
export function severalMaterials(
  points: readonly MaterialPoint[],
  options: FindingOptions,
): SeveralMaterials {
  if (points.length < 3) {
    throw new InputError(`reference materials: found ${points.length}, expected at least 3`);
  }
  for (const { certified, days, material } of points) {
    requirePositive(certified, `certified value of ${material}`);
    requireInteger(days, `days of ${material}`, 2);
  }
  const fit = york(
    points.map((point) => point.certified),
    points.map((point) => point.found),
    points.map((point) => point.certifiedStandardUncertainty),
    points.map((point) => point.foundStandardUncertainty),
  );
  const contents = points.map((point) => point.certified);
  const weights = weightsOf(points, fit);
  const levels = [Math.min(...contents), Math.max(...contents)].map((content) =>
    biasAt(fit, weights, content),
  );
  const { scatter } = weights;
  const consistent = scatter.pValue >= 0.05;
  return { finding: findingOf(points, options, levels, consistent), fit, levels, scatter, consistent };
}

/** Certified values are taken at their stated uncertainty; what was found has days − 1 degrees of freedom. */
function weightsOf(points: readonly MaterialPoint[], fit: UncertainLineFit): EstimatedWeights {
  const own = points.map((point) => point.foundStandardUncertainty ** 2);
  const variances = points.map((point, i) => own[i]! + (fit.slope * point.certifiedStandardUncertainty) ** 2);
  return estimatedWeights(
    fit,
    variances,
    points.map(({ days }, i) => (own[i]! > 0 ? (variances[i]! / own[i]!) ** 2 * (days - 1) : Infinity)),
  );
}

/** Bias of the line at a content, its uncertainty with the covariance of slope and intercept. */
function biasAt(fit: UncertainLineFit, weights: EstimatedWeights, content: number): BiasAtLevel {
  const bias = lineHeight(fit, content) - content;
  const { variance, degreesOfFreedom } = weights.heightVariance(content);
  const standardUncertainty = Math.sqrt(variance);
  return {
    content,
    bias,
    standardUncertainty,
    degreesOfFreedom,
    limits: limitsOfEstimate(bias, standardUncertainty, degreesOfFreedom),
  };
}

function findingOf(
  points: readonly MaterialPoint[],
  options: FindingOptions,
  levels: readonly BiasAtLevel[],
  consistent: boolean,
): Finding {
  const order = { 'not met': 2, 'not shown': 1, met: 0, 'no criterion': 0, 'not studied': 0 };
  const judged = levels.map((level) => {
    const scale = scaleOf(options.criterion, options.unit, level.content);
    const limits = scaleLimits(level.limits, scale.factor);
    const estimate = level.bias * scale.factor;
    const { verdict } = verdictAgainst(limits, estimate, options.criterion);
    return { level, scale, limits, estimate, rank: order[verdict] };
  });
  const worst = judged.reduce((a, b) =>
    b.rank > a.rank || (b.rank === a.rank && Math.abs(b.estimate) > Math.abs(a.estimate)) ? b : a,
  );
  return makeFinding('trueness over the range', options, {
    quantity: `${worst.scale.relative ? 'relative ' : ''}bias at ${worst.level.content} ${options.unit} by the line through ${points.length} reference materials`,
    unit: worst.scale.unit,
    estimate: worst.estimate,
    limits: worst.limits,
    degreesOfFreedom: worst.level.degreesOfFreedom,
    n: points.length,
    clause: 'ISO/TS 28037:2010, 7; ISO 33403:2024',
    method:
      'regression with uncertainties on both axes; limits by t, degrees of freedom by Welch–Satterthwaite; the variance is raised for weights that are themselves estimates',
    rows: [
      { table: 'references', keys: points.map((point) => point.material) },
      { table: 'digestions', keys: points.flatMap((point) => point.digestions) },
    ],
    notShownBecause: notShownBecause(points, consistent),
    remedy: 'More days, or reference materials of smaller uncertainty, narrow the limits.',
  });
}

function notShownBecause(points: readonly MaterialPoint[], consistent: boolean): string | null {
  const fewest = points.reduce((a, b) => (b.days < a.days ? b : a));
  if (fewest.days < leastDays)
    return `Found ${fewest.days} day(s) of ${fewest.material}; at least ${leastDays} days of each material are needed before trueness counts as shown.`;
  return consistent
    ? null
    : 'The materials scatter about the line by more than their uncertainties allow: find out which value or matrix is at fault.';
}
