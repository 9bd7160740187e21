import { InputError, requireFinite } from '../errors.js';
import type { ConfidenceLimits, Criterion, Verdict } from './finding.js';

/** A verdict with the sentence that gives its ground. */
export interface JudgedVerdict {
  readonly verdict: Verdict;
  readonly reason: string;
}

/**
 * Verdict of an estimate with confidence limits against a criterion.
 *
 * *met*: the one-sided 95 % limit on the unfavourable side clears the criterion; *not met*: even the one-sided 95 %
 * limit on the favourable side fails it; else *not shown*. A range is judged by both one-sided limits (the two
 * one-sided tests of an equivalence test), so that a true value on the edge is declared *met* at most 5 % of the time.
 *
 * @param limits one-sided 95 % limits in the unit of the criterion; null where the data do not give them
 * @param estimate null where there are no data
 * @param criterion null where the plan has none
 * @throws InputError a number that is not finite, limits in the wrong order, a range with its edges exchanged
 * @see ISO/IEC 17025:2017, 7.2.2.3; Schuirmann 1987, J. Pharmacokin. Biopharm. 15, 657 (two one-sided tests)
 * @example
 * verdictAgainst({ lowerOneSided: 1.1, upperOneSided: 2.6, low: 1, high: 2.8 }, 1.6, { kind: 'at most', limit: 3, unit: '%', reason: '', owner: '' }).verdict // => 'met'
 */
export function verdictAgainst(
  limits: ConfidenceLimits | null,
  estimate: number | null,
  criterion: Criterion | null,
): JudgedVerdict {
  if (criterion === null) return { verdict: 'no criterion', reason: 'The plan sets no criterion.' };
  checkCriterion(criterion);
  if (estimate === null) return { verdict: 'not studied', reason: 'There are no data.' };
  requireFinite([estimate], 'estimate');
  if (limits === null) {
    return { verdict: 'not shown', reason: 'The data give no confidence limits.' };
  }
  const { lowerOneSided, upperOneSided } = limits;
  if (Number.isNaN(lowerOneSided) || Number.isNaN(upperOneSided) || lowerOneSided > upperOneSided) {
    throw new InputError(`limits: found ${lowerOneSided} to ${upperOneSided}, expected lower before upper`);
  }
  return judge(lowerOneSided, upperOneSided, criterion);
}

/**
 * Verdict of a figure that carries no sampling error of its own, such as a computed uncertainty or a rule on one reading.
 *
 * @throws InputError a number that is not finite, a range with its edges exchanged
 * @example
 * verdictOfValue(0.8, { kind: 'at most', limit: 1, unit: '%', reason: '', owner: '' }).verdict // => 'met'
 */
export function verdictOfValue(value: number | null, criterion: Criterion | null): JudgedVerdict {
  if (criterion === null) return { verdict: 'no criterion', reason: 'The plan sets no criterion.' };
  checkCriterion(criterion);
  if (value === null) return { verdict: 'not studied', reason: 'There are no data.' };
  requireFinite([value], 'value');
  const { low, high } = edges(criterion);
  const verdict = value >= low && value <= high ? 'met' : 'not met';
  const relation = verdict === 'met' ? 'keeps' : value > high ? 'is above' : 'is below';
  const failed = value > high ? high : value < low ? low : nearest(value, low, high);
  return {
    verdict,
    reason: `The value ${figure(value, failed)} ${unitText(criterion)}${relation} ${allowed(criterion)}.`,
  };
}

/**
 * A criterion in words.
 *
 * @example
 * describeCriterion({ kind: 'within', limit: 5, unit: '%', reason: '', owner: '' }) // => 'from −5 to 5 %'
 */
export function describeCriterion(criterion: Criterion): string {
  const unit = criterion.unit === '1' ? '' : ` ${criterion.unit}`;
  if (criterion.kind !== 'within') return `${criterion.kind} ${signed(criterion.limit)}${unit}`;
  return `from ${signed(criterion.lower ?? -criterion.limit)} to ${signed(criterion.limit)}${unit}`;
}

/**
 * Lowest and highest value that keep a criterion; infinite on the side that it leaves open.
 *
 * @example
 * edges({ kind: 'at most', limit: 5, unit: '%', reason: '', owner: '' }).high // => 5
 */
export function edges(criterion: Criterion): { readonly low: number; readonly high: number } {
  if (criterion.kind === 'at most') return { low: -Infinity, high: criterion.limit };
  if (criterion.kind === 'at least') return { low: criterion.limit, high: Infinity };
  return { low: criterion.lower ?? -criterion.limit, high: criterion.limit };
}

function judge(lower: number, upper: number, criterion: Criterion): JudgedVerdict {
  const { low, high } = edges(criterion);
  const unit = unitText(criterion);
  const wanted = allowed(criterion);
  const both = `One-sided 95 % limits ${figure(lower, low)} and ${figure(upper, high)} ${unit}`;
  if (lower >= low && upper <= high) {
    const which =
      criterion.kind === 'at most'
        ? `The upper one-sided 95 % limit ${figure(upper, high)} ${unit}keeps`
        : criterion.kind === 'at least'
          ? `The lower one-sided 95 % limit ${figure(lower, low)} ${unit}keeps`
          : `${both}keep`;
    return { verdict: 'met', reason: `${which} ${wanted}.` };
  }
  if (lower > high) {
    const reason = `Even the lower one-sided 95 % limit ${figure(lower, high)} ${unit}is above ${wanted}.`;
    return { verdict: 'not met', reason };
  }
  if (upper < low) {
    const reason = `Even the upper one-sided 95 % limit ${figure(upper, low)} ${unit}is below ${wanted}.`;
    return { verdict: 'not met', reason };
  }
  return { verdict: 'not shown', reason: `${both}do not decide about ${wanted}.` };
}

/** The criterion as the object of a sentence: `the allowed range from −4 to 4 %`. */
function allowed(criterion: Criterion): string {
  const words = describeCriterion(criterion);
  if (criterion.kind === 'within') return `the allowed range ${words}`;
  return criterion.kind === 'at most' ? `what is allowed, ${words}` : `what is required, ${words}`;
}

function unitText(criterion: Criterion): string {
  return criterion.unit === '1' ? '' : `${criterion.unit} `;
}

function checkCriterion(criterion: Criterion): void {
  requireFinite([criterion.limit, criterion.lower ?? 0], 'criterion');
  const { low, high } = edges(criterion);
  if (low > high) {
    throw new InputError(`criterion: found the range ${low} to ${high}, expected its lower edge first`);
  }
}

function nearest(value: number, low: number, high: number): number {
  return Math.abs(value - low) < Math.abs(value - high) ? low : high;
}

function signed(value: number): string {
  return `${value}`.replace('-', '−');
}

/** Four significant digits, or as many as it takes to be seen apart from what it is compared with. */
function figure(value: number, comparedWith: number): string {
  for (let digits = 4; digits < 17; digits++) {
    const text = Number(value.toPrecision(digits));
    if (value === comparedWith || text !== comparedWith) return signed(text);
  }
  return signed(value);
}
