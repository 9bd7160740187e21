import { requireFinite, requireInteger, requirePositive } from '../../errors.js';
import { mean } from '../../statistics/descriptive/mean.js';
import { standardDeviation } from '../../statistics/descriptive/standard-deviation.js';
import { limitsOfStandardDeviation } from '../confidence-limits.js';
import type { ConfidenceLimits } from '../finding.js';
import { dayComponents } from '../precision/day-components.js';
import { leastDays } from '../precision/precision.js';
import { intermediateOf, type StandardDeviationEstimate } from '../precision/precision-estimates.js';
import { type ResultRow, valuesBy } from '../result-row.js';
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
  /** Of such a value over days, digestions of one day sharing what their day is off by. */
  readonly standardDeviation: number;
  readonly degreesOfFreedom: number;
  readonly limits: ConfidenceLimits;
  /** Standard deviation allowed at the mean: target × mean. */
  readonly allowed: number;
  readonly outcome: 'confirmed' | 'contradicted' | 'open';
  /** Why it is left open whatever the values; null where they decide. */
  readonly notShown: string | null;
  readonly sentence: string;
}

/**
 * Whether results of a material at about the limit of quantification scatter as little as the target wants at its content.
 *
 * The standard deviation over days of results as they are reported (means of the digestions of one day), with the days as the
 * independent units and the limits of Graybill and Wang, is held against target × mean. Where a day has too few digestions for a
 * result, single ones are taken: they scatter more, which makes *confirmed* harder to reach. Fewer than 5 days, or values that do
 * not scatter at all, leave it open whatever the values. It confirms the spread; bias at this level shows only where the
 * material's content is known.
 *
 * @param rows results of one material, at least 2
 * @throws InputError fewer than 2 values, a limit, target or mean not above 0
 * @see Eurachem, Fitness for Purpose 2014, 6.2.4 (clause from memory); ISO 5725-3:2023, 8 (clause from memory)
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
  const byDay = [...valuesBy(rows, (row) => row.day).values()];
  const isWhole = byDay.every((own) => own.length >= digestionsPerResult);
  const digestionsPerValue = isWhole ? digestionsPerResult : 1;
  const found = mean(byDay.map((own) => mean(own)));
  requirePositive(found, `mean of ${material}`);
  const { value, degreesOfFreedom, limits } = spreadOverDays(rows, byDay, digestionsPerValue);
  const allowed = targetRelative * found;
  const criterion = { kind: 'at most' as const, limit: allowed, unit, reason: '', owner: '' };
  const { verdict } = verdictAgainst(limits, value, criterion);
  const notShown = notShownBecause(byDay.length, value);
  const outcome: QuantificationConfirmation['outcome'] =
    notShown !== null || verdict === 'not shown' ? 'open' : verdict === 'met' ? 'confirmed' : 'contradicted';
  const confirmation = {
    ...{ material, rows, days: byDay.length, mean: found, digestionsPerValue },
    ...{ standardDeviation: value, degreesOfFreedom, limits, allowed, outcome, notShown },
  };
  return { ...confirmation, sentence: sentenceOf(confirmation, options) };
}

/** Standard deviation over days of the mean of so many digestions of one day; of one day alone that of its digestions. */
function spreadOverDays(
  rows: readonly ResultRow[],
  byDay: readonly (readonly number[])[],
  digestions: number,
): StandardDeviationEstimate {
  if (byDay.length > 1 && rows.length > byDay.length) return intermediateOf(dayComponents(rows), digestions);
  const value = standardDeviation(rows.map((row) => row.value)) / Math.sqrt(digestions);
  const degreesOfFreedom = rows.length - 1;
  return { value, degreesOfFreedom, limits: limitsOfStandardDeviation(value, degreesOfFreedom) };
}

function notShownBecause(days: number, standardDeviation: number): string | null {
  if (days < leastDays)
    return `at least ${leastDays} days are needed, for digestions of one day share its errors.`;
  if (standardDeviation === 0)
    return 'the values do not scatter at all, so they are cut or rounded and show no spread.';
  return null;
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
    found.notShown !== null
      ? ` It is left open whatever the values: ${found.notShown}`
      : found.outcome === 'open'
        ? ' More digestions at this level, on more days, would decide it.'
        : '';
  const values =
    found.digestionsPerValue === 1 ? 'single digestions' : `means of ${found.digestionsPerValue} digestions`;
  return `The limit of quantification of ${shown(limit)} ${unit} is ${openings[found.outcome]} by ${found.rows.length} digestions of ${material} on ${found.days} day(s) at ${shown(found.mean)} ${unit}: the standard deviation of ${values} is ${shown(found.standardDeviation)} ${unit} (upper 95 % limit ${shown(found.limits.upperOneSided)} ${unit}), and the target uncertainty allows ${shown(found.allowed)} ${unit} there. This bears on contents about that of the digestions; the limit itself rests on the blanks.${more}`;
}
