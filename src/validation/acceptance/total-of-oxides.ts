import { requireFinite, requireNonNegative } from '../../errors.js';
import { limitsOfEstimate, scaleLimits } from '../confidence-limits.js';
import type { Finding, RowReference } from '../finding.js';
import { type FindingOptions, makeFinding } from '../make-finding.js';
import { scaleOf } from '../scale.js';

/** One oxide (or the loss on ignition) of the total, in g/100 g of one basis. */
export interface OxideContribution {
  readonly name: string;
  readonly massFraction: number;
}

export interface TotalOfOxidesOptions extends Omit<FindingOptions, 'unit' | 'analyte'> {
  readonly contributions: readonly OxideContribution[];
  /** Of the total, covariances of the shared steps included. */
  readonly standardUncertainty: number;
  readonly degreesOfFreedom: number;
  readonly rows: readonly RowReference[];
}

/** Total of oxides with the finding about it. */
export interface TotalOfOxides {
  readonly finding: Finding;
  readonly total: number;
  readonly standardUncertainty: number;
  readonly contributions: readonly OxideContribution[];
}

/**
 * Total of oxides and loss on ignition of one sample, never normalised. Closure near 100 g/100 g screens for gross error and
 * forgotten elements; two errors that cancel close as well, so it proves nothing.
 *
 * @throws InputError no contribution, a value that is not finite, a negative uncertainty
 * @see JCGM 102:2011 (covariance of the contributions)
 */
export function totalOfOxides(options: TotalOfOxidesOptions): TotalOfOxides {
  requireFinite(
    options.contributions.map((part) => part.massFraction),
    'contributions to the total',
  );
  requireNonNegative(options.standardUncertainty, 'standard uncertainty of the total');
  const total = options.contributions.reduce((sum, part) => sum + part.massFraction, 0);
  const scale = scaleOf(options.criterion, 'g/100 g', Number.NaN, 'g/100 g');
  const limits = limitsOfEstimate(total, options.standardUncertainty, options.degreesOfFreedom);
  const finding = makeFinding(
    'total of oxides',
    { ...options, analyte: '*', unit: 'g/100 g' },
    {
      quantity: 'total of oxides and loss on ignition',
      unit: scale.unit,
      estimate: total * scale.factor,
      limits: scaleLimits(limits, scale.factor),
      degreesOfFreedom: options.degreesOfFreedom,
      n: Math.max(1, ...options.rows.map(({ keys }) => keys.length)),
      clause: 'JCGM 102:2011',
      method: 'sum of the results, standard uncertainty with their covariances; limits by t',
      rows: options.rows,
      notes: ['Closure screens for gross errors and forgotten elements; it proves no single result.'],
      remedy: 'A smaller uncertainty of the major oxides would decide it.',
    },
  );
  return {
    finding,
    total,
    standardUncertainty: options.standardUncertainty,
    contributions: options.contributions,
  };
}
