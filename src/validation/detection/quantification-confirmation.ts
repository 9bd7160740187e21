import { InputError, requireFinite, requirePositive } from '../../errors.js';
import { mean } from '../../statistics/descriptive/mean.js';
import { standardDeviation } from '../../statistics/descriptive/standard-deviation.js';
import { limitsOfStandardDeviation } from '../confidence-limits.js';
import type { ConfidenceLimits } from '../finding.js';
import type { ResultRow } from '../result-row.js';
import { verdictAgainst } from '../verdict.js';

export interface QuantificationConfirmationOptions {
  readonly material: string;
  readonly unit: string;
  /** Limit of quantification that is to be confirmed, in the unit of the results. */
  readonly limit: number;
  /** Relative standard uncertainty wanted at the limit, as a fraction of 1. */
  readonly targetRelative: number;
}

/** Digestions of one material at about a limit of quantification against what is wanted there. */
export interface QuantificationConfirmation {
  readonly material: string;
  readonly rows: readonly ResultRow[];
  readonly days: number;
  readonly mean: number;
  /** Of single digestions over all days. */
  readonly standardDeviation: number;
  readonly limits: ConfidenceLimits;
  /** Standard deviation allowed at the limit: target × limit. */
  readonly allowed: number;
  readonly outcome: 'confirmed' | 'contradicted' | 'open';
  readonly sentence: string;
}

/**
 * Whether digestions of a material at about the limit of quantification scatter as little as the limit promises.
 *
 * The standard deviation of single digestions over days is held against target × limit: a reported mean of several scatters less,
 * a content above the limit more, so that both make *confirmed* harder to reach. It confirms the spread; bias at this
 * level shows only where the material's content is known.
 *
 * @param rows results of one material, at least 2
 * @throws InputError fewer than 2 results, a limit or target not above 0
 * @see Eurachem, Fitness for Purpose 2014, 6.2.4 (clause from memory)
 */
export function quantificationConfirmation(
  rows: readonly ResultRow[],
  options: QuantificationConfirmationOptions,
): QuantificationConfirmation {
  const { material, unit, limit, targetRelative } = options;
  requirePositive(limit, 'limit of quantification');
  requirePositive(targetRelative, 'relative target standard uncertainty');
  const values = rows.map((row) => row.value);
  if (values.length < 2) {
    throw new InputError(`results of ${material}: found ${values.length}, expected at least 2`);
  }
  requireFinite(values, `results of ${material}`);
  const s = standardDeviation(values);
  const limits = limitsOfStandardDeviation(s, values.length - 1);
  const allowed = targetRelative * limit;
  const criterion = { kind: 'at most' as const, limit: allowed, unit, reason: '', owner: '' };
  const { verdict } = verdictAgainst(limits, s, criterion);
  const outcome: QuantificationConfirmation['outcome'] =
    verdict === 'met' ? 'confirmed' : verdict === 'not met' ? 'contradicted' : 'open';
  const days = new Set(rows.map((row) => row.day)).size;
  const found = { material, rows, days, mean: mean(values), standardDeviation: s, limits, allowed, outcome };
  return { ...found, sentence: sentenceOf(found, options) };
}

const openings = {
  confirmed: 'confirmed',
  contradicted: 'contradicted',
  open: 'neither confirmed nor contradicted',
} as const;

function sentenceOf(
  found: Omit<QuantificationConfirmation, 'sentence'>,
  { material, unit, limit }: QuantificationConfirmationOptions,
): string {
  const shown = (value: number) => String(Number(value.toPrecision(2)));
  const more =
    found.outcome === 'open' ? ' More digestions at this level, on more days, would decide it.' : '';
  return `The limit of quantification of ${shown(limit)} ${unit} is ${openings[found.outcome]} by ${found.rows.length} digestions of ${material} on ${found.days} day(s) at ${shown(found.mean)} ${unit}: their standard deviation is ${shown(found.standardDeviation)} ${unit} (upper 95 % limit ${shown(found.limits.upperOneSided)} ${unit}), and ${shown(found.allowed)} ${unit} is allowed.${more}`;
}
