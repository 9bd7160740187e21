import { requireNonNegative, requirePositive } from '../../errors.js';
import { chiSquaredQuantile } from '../../statistics/distributions/chi-squared.js';
import { scaleLimits } from '../confidence-limits.js';
import type { ConfidenceLimits, Finding, RowReference } from '../finding.js';
import { type FindingOptions, makeFinding } from '../make-finding.js';
import { noScatter } from '../no-scatter.js';
import { rowsOf } from '../result-row.js';
import { scaleOf } from '../scale.js';
import { smallestNumber } from '../smallest-number.js';
import type { QuantificationConfirmation } from './quantification-confirmation.js';

/** What a limit of quantification is worked out from; contents in the unit of the solid. */
export interface QuantificationOptions extends FindingOptions {
  /** Standard deviation at content 0 with its 95 % limits and degrees of freedom; null where blanks are too few to have one. */
  readonly standardDeviationAtZero: number | null;
  readonly limitsAtZero: ConfidenceLimits | null;
  readonly degreesOfFreedom: number | null;
  /** By target uncertainty, or by the convention of ten standard deviations. */
  readonly approach: 'target uncertainty' | 'ten standard deviations';
  /** Relative standard uncertainty wanted and the part of it proportional to content, as fractions of 1. */
  readonly targetRelative?: number;
  readonly proportionalRelative?: number;
  /** Independent blanks behind the standard deviation. */
  readonly blanks: number;
  /** Structural reason of the blanks, from `procedureBlank`. */
  readonly tooFew: string | null;
  /** Looks for digestions at about the limit that was worked out. */
  readonly confirm?: (limit: number) => readonly QuantificationConfirmation[];
  /** What the standard deviation at content 0 holds beside the blanks, in words. */
  readonly notes?: readonly string[];
  readonly rows: readonly RowReference[];
}

/** Limit of quantification in the solid; `value` is null where none exists. */
export interface QuantificationLimit {
  readonly finding: Finding;
  readonly value: number | null;
  /** LOQ ÷ standard deviation at content 0. */
  readonly multiple: number | null;
  readonly limits: ConfidenceLimits | null;
  /** Materials at about the limit, digested to confirm it. */
  readonly confirmations: readonly QuantificationConfirmation[];
}

/**
 * Limit of quantification: the lowest content at which u(w) = √(s₀² + (s₁·w)²) keeps the target, LOQ = s₀/√(u_target² − s₁²).
 *
 * None exists where the proportional part alone reaches the target. Its limits are those of s₀, s₁ taken as known.
 *
 * @throws InputError a target or standard deviation not above 0
 * @see EURACHEM/CITAC QUAM:2012, Appendix E.5; Eurachem, target measurement uncertainty 2015; Fitness for Purpose 2014, 6.2.4 (clause from memory)
 */
export function quantificationLimit(options: QuantificationOptions): QuantificationLimit {
  const atZero = options.standardDeviationAtZero;
  if (atZero !== null) requireNonNegative(atZero, 'standard deviation at content 0');
  const multiple = multipleOf(options);
  const scale = scaleOf(options.criterion, options.unit, Number.NaN, options.unit);
  const value = multiple === null || atZero === null ? null : multiple * atZero;
  const limits =
    multiple === null || options.limitsAtZero === null ? null : scaleLimits(options.limitsAtZero, multiple);
  const wanted = options.criterion?.limit ?? 0;
  const confirmations = value === null || value === 0 ? [] : (options.confirm?.(value) ?? []);
  const finding = makeFinding('limit of quantification', options, {
    quantity: 'limit of quantification in the solid',
    unit: scale.unit,
    estimate: value === null ? null : value * scale.factor,
    limits: limits === null ? null : scaleLimits(limits, scale.factor),
    degreesOfFreedom: options.degreesOfFreedom,
    n: options.blanks,
    clause: 'QUAM:2012, Appendix E.5 (clause from memory); Eurachem, target measurement uncertainty 2015',
    method:
      options.approach === 'target uncertainty'
        ? 's₀/√(u_target² − s₁²); limits of s₀ from the scatter of the blanks over runs'
        : '10·s₀; limits of s₀ from the scatter of the blanks over runs',
    rows: [...options.rows, ...confirmations.map((c) => rowsOf('digestions', c.rows))],
    notes: [...(options.notes ?? []), ...notesOf(confirmations)],
    notShownBecause:
      options.tooFew ?? (atZero === 0 ? noScatter('The blanks', 'no limit can be worked out') : null),
    ...(multiple === null
      ? {
          decided: {
            verdict: 'not met' as const,
            reason:
              'None exists: the part of the uncertainty proportional to content alone reaches the target.',
          },
        }
      : { remedy: () => blanksNeeded((value ?? 0) * scale.factor, options.blanks, wanted) }),
  });
  return { finding, value, multiple, limits, confirmations };
}

function multipleOf(options: QuantificationOptions): number | null {
  if (options.approach === 'ten standard deviations') return 10;
  const target = options.targetRelative ?? Number.NaN;
  const proportional = options.proportionalRelative ?? 0;
  requirePositive(target, 'relative target standard uncertainty');
  requireNonNegative(proportional, 'proportional relative standard uncertainty');
  return proportional >= target ? null : 1 / Math.sqrt(target ** 2 - proportional ** 2);
}

function notesOf(confirmations: readonly QuantificationConfirmation[]): string[] {
  return confirmations.length > 0
    ? confirmations.map((c) => c.sentence)
    : ['Not confirmed by digestions at about the limit of quantification.'];
}

function blanksNeeded(value: number, found: number, limit: number): string {
  if (value > limit) return 'The estimate itself does not keep it: the blank has to scatter less.';
  const n = smallestNumber(
    Math.max(6, found),
    200,
    (count) => value * Math.sqrt((count - 1) / chiSquaredQuantile(0.05, count - 1)) <= limit,
  );
  if (n !== null)
    return `With the spread found, about ${n} blanks in all, each in a run of its own, would show it.`;
  return 'More than 200 blanks would be needed: the estimate is too close to the criterion.';
}
