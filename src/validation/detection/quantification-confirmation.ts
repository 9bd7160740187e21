import { InputError, requireFinite, requireInteger, requirePositive } from '../../errors.js';
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
  /** Digestions of one day that a reported result is the mean of. */
  readonly digestionsPerResult: number;
}

/** Digestions of one material at about a limit of quantification against what is wanted there. */
export interface QuantificationConfirmation {
  readonly material: string;
  readonly rows: readonly ResultRow[];
  readonly days: number;
  readonly mean: number;
  /** Digestions of one day that each value is the mean of: as a result is reported, or 1 where a day has too few. */
  readonly digestionsPerValue: number;
  /** Of these values over all days. */
  readonly standardDeviation: number;
  readonly degreesOfFreedom: number;
  readonly limits: ConfidenceLimits;
  /** Standard deviation allowed at the mean: target × mean. */
  readonly allowed: number;
  readonly outcome: 'confirmed' | 'contradicted' | 'open';
  readonly sentence: string;
}

/**
 * Whether results of a material at about the limit of quantification scatter as little as the target wants at its content.
 *
 * The standard deviation over days of results as they are reported (means of the digestions of one day) is held against
 * target × mean. Where a day has too few digestions for a result, single ones are taken: they scatter more, which makes
 * *confirmed* harder to reach. It confirms the spread; bias at this level shows only where the material's content is
 * known.
 *
 * @param rows results of one material, at least 2
 * @throws InputError fewer than 2 values, a limit, target or mean not above 0
 * @see Eurachem, Fitness for Purpose 2014, 6.2.4 (clause from memory)
 */
export function quantificationConfirmation(
  rows: readonly ResultRow[],
  options: QuantificationConfirmationOptions,
): QuantificationConfirmation {
  const { material, unit, limit, targetRelative, digestionsPerResult } = options;
  requirePositive(limit, 'limit of quantification');
  requirePositive(targetRelative, 'relative target standard uncertainty');
  requireInteger(digestionsPerResult, 'digestions a result', 1);
  requireFinite(
    rows.map((row) => row.value),
    `results of ${material}`,
    2,
  );
  const byDay = [...new Set(rows.map((row) => row.day))].map((day) => rows.filter((row) => row.day === day));
  const isWhole = byDay.every((own) => own.length >= digestionsPerResult);
  const digestionsPerValue = isWhole ? digestionsPerResult : 1;
  const values = byDay.flatMap((own) => meansOf(own, digestionsPerValue));
  if (values.length < 2) {
    throw new InputError(`results of ${material}: found ${values.length}, expected at least 2`);
  }
  const found = mean(values);
  requirePositive(found, `mean of ${material}`);
  const s = standardDeviation(values);
  const degreesOfFreedom = values.length - 1;
  const limits = limitsOfStandardDeviation(s, degreesOfFreedom);
  const allowed = targetRelative * found;
  const criterion = { kind: 'at most' as const, limit: allowed, unit, reason: '', owner: '' };
  const { verdict } = verdictAgainst(limits, s, criterion);
  const outcome: QuantificationConfirmation['outcome'] =
    verdict === 'met' ? 'confirmed' : verdict === 'not met' ? 'contradicted' : 'open';
  const confirmation = {
    ...{ material, rows, days: byDay.length, mean: found, digestionsPerValue },
    ...{ standardDeviation: s, degreesOfFreedom, limits, allowed, outcome },
  };
  return { ...confirmation, sentence: sentenceOf(confirmation, options) };
}

/** Means of so many digestions of one day each; a rest too small for another mean is left out. */
function meansOf(rows: readonly ResultRow[], size: number): number[] {
  return Array.from({ length: Math.floor(rows.length / size) }, (_, i) =>
    mean(rows.slice(i * size, (i + 1) * size).map((row) => row.value)),
  );
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
  const values =
    found.digestionsPerValue === 1 ? 'single digestions' : `means of ${found.digestionsPerValue} digestions`;
  return `The limit of quantification of ${shown(limit)} ${unit} is ${openings[found.outcome]} by ${found.rows.length} digestions of ${material} on ${found.days} day(s) at ${shown(found.mean)} ${unit}: the standard deviation of ${values} is ${shown(found.standardDeviation)} ${unit} (upper 95 % limit ${shown(found.limits.upperOneSided)} ${unit}), and the target uncertainty allows ${shown(found.allowed)} ${unit} there. This bears on contents about that of the digestions; the limit itself rests on the blanks.${more}`;
}
