import { requireFinite, requireInteger, requireNonNegative } from '../../errors.js';
import { limitsOfEstimate, scaleLimits } from '../confidence-limits.js';
import type { Finding, RowReference } from '../finding.js';
import { type FindingOptions, makeFinding } from '../make-finding.js';
import { leastDays } from '../precision/precision.js';
import { scaleOf } from '../scale.js';

/** One oxide (or the loss on ignition) of the total, in g/100 g of one basis. */
export interface OxideContribution {
  readonly name: string;
  readonly massFraction: number;
}

export interface TotalOfOxidesOptions extends Omit<FindingOptions, 'unit' | 'analyte'> {
  readonly contributions: readonly OxideContribution[];
  /** Losses of mass of the sample that belong to the total, such as the loss on ignition; empty where none is known. */
  readonly losses: readonly OxideContribution[];
  /** Of the total, covariances of the shared steps included; null where the results are of one day and do not show it. */
  readonly standardUncertainty: number | null;
  readonly degreesOfFreedom: number;
  /** Days of the results. */
  readonly days: number;
  readonly rows: readonly RowReference[];
  /** What the total rests on and what is not in it. */
  readonly notes: readonly string[];
}

/** Total of oxides with the finding about it. */
export interface TotalOfOxides {
  readonly finding: Finding;
  readonly total: number;
  /** Null where the results are of one day. */
  readonly standardUncertainty: number | null;
  /** Oxides, then losses of mass. */
  readonly contributions: readonly OxideContribution[];
}

/**
 * Total of oxides, and of losses of mass where they are known, of one sample, never normalised. Closure near 100 g/100 g screens
 * for gross error and forgotten elements; two errors that cancel close as well, so it proves nothing. Results of fewer than five
 * days show nothing, as their scatter over days is hardly known.
 *
 * @throws InputError no contribution, a value that is not finite, a negative uncertainty, no day
 * @see JCGM 102:2011 (covariance of the contributions)
 */
export function totalOfOxides(options: TotalOfOxidesOptions): TotalOfOxides {
  const { standardUncertainty, degreesOfFreedom, days, losses } = options;
  const contributions = [...options.contributions, ...losses];
  requireFinite(
    contributions.map((part) => part.massFraction),
    'contributions to the total',
  );
  requireNonNegative(standardUncertainty ?? 0, 'standard uncertainty of the total');
  requireInteger(days, 'days', 1);
  const total = contributions.reduce((sum, part) => sum + part.massFraction, 0);
  const scale = scaleOf(options.criterion, 'g/100 g', Number.NaN, 'g/100 g');
  const limits =
    standardUncertainty === null ? null : limitsOfEstimate(total, standardUncertainty, degreesOfFreedom);
  const finding = makeFinding(
    'total of oxides',
    { ...options, analyte: '*', unit: 'g/100 g' },
    {
      quantity: nameOfTotal(losses),
      unit: scale.unit,
      estimate: total * scale.factor,
      limits: limits === null ? null : scaleLimits(limits, scale.factor),
      degreesOfFreedom: standardUncertainty === null ? null : degreesOfFreedom,
      n: Math.max(1, ...options.rows.map(({ keys }) => keys.length)),
      clause: 'JCGM 102:2011',
      method:
        'mean over days of the totals of digestions with a result of every oxide, standard uncertainty with the covariances of the results; limits by t',
      rows: options.rows,
      notes: [
        ...options.notes,
        'Closure screens for gross errors and forgotten elements; it proves no single result.',
      ],
      notShownBecause:
        days < leastDays
          ? `Found ${days} day(s); at least ${leastDays} days are needed before the total counts as shown.`
          : null,
      remedy: 'A smaller uncertainty of the major oxides would decide it.',
    },
  );
  return { finding, total, standardUncertainty, contributions };
}

/**
 * What a total is the sum of.
 *
 * @param losses of mass that stand in it
 * @example
 * nameOfTotal([{ name: 'loss on ignition' }]) // => 'total of oxides and loss on ignition'
 */
export function nameOfTotal(losses: readonly { readonly name: string }[]): string {
  const last = losses.at(-1);
  if (last === undefined) return 'total of oxides';
  return `${['total of oxides', ...losses.slice(0, -1).map(({ name }) => name)].join(', ')} and ${last.name}`;
}
