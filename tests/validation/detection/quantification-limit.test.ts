import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { limitsOfStandardDeviation } from '../../../src/validation/confidence-limits.js';
import {
  type QuantificationOptions,
  quantificationLimit,
} from '../../../src/validation/detection/quantification-limit.js';
import { criterion } from '../support.js';

const options: QuantificationOptions = {
  analyte: 'Fe',
  level: '*',
  unit: 'mg/kg',
  criterion: criterion('at most', 100, 'mg/kg'),
  standardDeviationAtZero: 2,
  limitsAtZero: limitsOfStandardDeviation(2, 11),
  degreesOfFreedom: 11,
  approach: 'target uncertainty',
  targetRelative: 0.1,
  proportionalRelative: 0.06,
  blanks: 12,
  tooFew: null,
  rows: [],
};

describe('limit of quantification', () => {
  it('is the content at which √(s₀² + (s₁·w)²) reaches the target', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 10, noNaN: true }),
        fc.double({ min: 0, max: 0.09, noNaN: true }),
        (s0, s1) => {
          const found = quantificationLimit({
            ...options,
            standardDeviationAtZero: s0,
            limitsAtZero: limitsOfStandardDeviation(s0, 11),
            proportionalRelative: s1,
          });
          const w = found.value!;
          expect(Math.hypot(s0, s1 * w) / w).toAgreeWithin(0.1, 1e-10);
        },
      ),
    );
  });

  it('is met by its upper limit, not by its estimate', () => {
    const found = quantificationLimit(options);
    expect(found.value).toAgreeWithin(25, 1e-12);
    const tight = { ...options, criterion: criterion('at most', 30, 'mg/kg') };
    expect(found.finding.verdict).toBe('met');
    expect(quantificationLimit(tight).finding.verdict).toBe('not shown');
    expect(quantificationLimit(tight).finding.reason).toMatch(/about \d+ blanks/);
  });

  it('does not exist where the proportional part reaches the target, and is then not met', () => {
    const found = quantificationLimit({ ...options, proportionalRelative: 0.1 });
    expect(found.value).toBeNull();
    expect(found.finding.verdict).toBe('not met');
    expect(found.finding.reason).toContain('None exists');
  });

  it('is not shown where blanks are too few, whatever the values', () => {
    const reason = 'Found 4 usable independent procedure blanks; at least 6 are needed.';
    const few = { ...options, tooFew: reason, blanks: 4 };
    expect(quantificationLimit(few).finding).toMatchObject({ verdict: 'not shown', reason });
    const none = { ...few, standardDeviationAtZero: null, limitsAtZero: null, degreesOfFreedom: null };
    expect(quantificationLimit(none).finding).toMatchObject({ verdict: 'not shown', estimate: null });
  });

  it('is not shown where the blanks do not scatter at all', () => {
    const flat = { ...options, standardDeviationAtZero: 0, limitsAtZero: limitsOfStandardDeviation(0, 11) };
    expect(quantificationLimit(flat).finding.verdict).toBe('not shown');
  });

  it('can follow the convention of ten standard deviations', () => {
    expect(quantificationLimit({ ...options, approach: 'ten standard deviations' }).value).toAgreeWithin(
      20,
      1e-12,
    );
  });

  it('refuses a missing target', () => {
    const { targetRelative: _, ...rest } = options;
    expect(() => quantificationLimit(rest)).toThrow(InputError);
  });
});
