import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../src/errors.js';
import type { ConfidenceLimits, Verdict } from '../../src/validation/finding.js';
import { describeCriterion, verdictAgainst, verdictOfValue } from '../../src/validation/verdict.js';
import { criterion } from './support.js';

function limits(lower: number, upper: number): ConfidenceLimits {
  const half = (upper - lower) / 2;
  return { lowerOneSided: lower, upperOneSided: upper, low: lower - 0.2 * half, high: upper + 0.2 * half };
}

const verdict = (lower: number, upper: number, ...c: Parameters<typeof criterion>): Verdict =>
  verdictAgainst(limits(lower, upper), (lower + upper) / 2, criterion(...c)).verdict;

describe('verdict against a criterion', () => {
  it('is met when the unfavourable one-sided limit clears the criterion, the edge included', () => {
    expect(verdict(1, 3, 'at most', 3, '%')).toBe('met');
    expect(verdict(3, 5, 'at least', 3, '%')).toBe('met');
    expect(verdict(-3, 3, 'within', 3, '%')).toBe('met');
    expect(verdict(95, 105, 'within', 105, '%', 95)).toBe('met');
  });

  it('is not met when even the favourable one-sided limit fails', () => {
    expect(verdict(3.001, 5, 'at most', 3, '%')).toBe('not met');
    expect(verdict(1, 2.999, 'at least', 3, '%')).toBe('not met');
    expect(verdict(3.001, 5, 'within', 3, '%')).toBe('not met');
    expect(verdict(-5, -3.001, 'within', 3, '%')).toBe('not met');
    expect(verdict(90, 94.9, 'within', 105, '%', 95)).toBe('not met');
  });

  it('is not shown in between', () => {
    expect(verdict(3, 5, 'at most', 3, '%')).toBe('not shown');
    expect(verdict(1, 3, 'at least', 3, '%')).toBe('not shown');
    expect(verdict(-4, 4, 'within', 3, '%')).toBe('not shown');
    expect(verdict(2, 4, 'within', 3, '%')).toBe('not shown');
  });

  it('knows no criterion, no data and no limits apart', () => {
    const c = criterion('at most', 3, '%');
    expect(verdictAgainst(limits(1, 2), 1, null).verdict).toBe('no criterion');
    expect(verdictAgainst(null, null, c).verdict).toBe('not studied');
    expect(verdictAgainst(null, 1, c).verdict).toBe('not shown');
  });

  it('is symmetric: turning all signs round turns "at most" into "at least" and leaves a range', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -100, max: 100, noNaN: true }),
        fc.double({ min: 0, max: 50, noNaN: true }),
        fc.double({ min: 0.01, max: 100, noNaN: true }),
        (lower, width, edge) => {
          const upper = lower + width;
          expect(verdict(lower, upper, 'at most', edge, '%')).toBe(
            verdict(-upper, -lower, 'at least', -edge, '%'),
          );
          expect(verdict(lower, upper, 'within', edge, '%')).toBe(
            verdict(-upper, -lower, 'within', edge, '%'),
          );
        },
      ),
    );
  });

  it('never turns from met to not met when the criterion becomes easier', () => {
    const order: Verdict[] = ['not met', 'not shown', 'met'];
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 10, noNaN: true }),
        fc.double({ min: 0, max: 10, noNaN: true }),
        fc.double({ min: 0, max: 10, noNaN: true }),
        fc.double({ min: 0, max: 10, noNaN: true }),
        (lower, width, edge, more) => {
          const hard = verdict(lower, lower + width, 'at most', edge, '%');
          const easy = verdict(lower, lower + width, 'at most', edge + more, '%');
          expect(order.indexOf(easy)).toBeGreaterThanOrEqual(order.indexOf(hard));
        },
      ),
    );
  });

  it('says a limit with enough digits to be seen apart from the criterion', () => {
    const judged = verdictAgainst(limits(1, 3.00004), 2, criterion('at most', 3, '%'));
    expect(judged.reason).toContain('3.00004 %');
  });

  it('compares a figure without sampling error as it stands', () => {
    expect(verdictOfValue(3, criterion('at most', 3, '%')).verdict).toBe('met');
    expect(verdictOfValue(3.1, criterion('at most', 3, '%')).verdict).toBe('not met');
    expect(verdictOfValue(94, criterion('within', 105, '%', 95)).verdict).toBe('not met');
    expect(verdictOfValue(null, criterion('at most', 3, '%')).verdict).toBe('not studied');
  });

  it('words a criterion', () => {
    expect(describeCriterion(criterion('within', 105, '%', 95))).toBe('from 95 to 105 %');
    expect(describeCriterion(criterion('at most', 1.5, '1'))).toBe('at most 1.5');
  });

  it('refuses exchanged limits, exchanged edges and figures that are not finite', () => {
    const c = criterion('at most', 3, '%');
    expect(() => verdictAgainst(limits(3, 1), 2, c)).toThrow(InputError);
    expect(() => verdictAgainst(limits(1, 2), Number.NaN, c)).toThrow(InputError);
    expect(() => verdictAgainst(limits(1, Number.NaN), 1, c)).toThrow(InputError);
    expect(() => verdictAgainst(limits(1, 2), 1, criterion('within', 1, '%', 2))).toThrow(InputError);
  });
});
