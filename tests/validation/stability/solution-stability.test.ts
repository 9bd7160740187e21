import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import {
  type StabilityRow,
  solutionStability,
} from '../../../src/validation/stability/solution-stability.js';
import { criterion } from '../support.js';

const options = {
  analyte: 'Si',
  level: 'ZP-2',
  unit: 'mg/kg',
  criterion: criterion('at least', 96, 'h'),
  allowedChangePercent: 2,
};

/** Three digestions that differ in content, read at times with the given changes in %; scatter ± 0.1 %. */
function rows(changes: Record<number, number>): StabilityRow[] {
  return [100, 110, 120].flatMap((content, i) =>
    Object.entries({ 0: 0, ...changes }).map(([hours, percent]) => ({
      key: `D-${i}`,
      hours: Number(hours),
      value: content * (1 + (percent + (Number(hours) > 0 ? 0.1 * (i - 1) : 0)) / 100),
    })),
  );
}

describe('stability of solutions', () => {
  it('is met where a tested time at or beyond the wanted one and all before it keep the allowed change', () => {
    const found = solutionStability(rows({ 24: 0.1, 48: 0.2, 96: -0.3 }), options);
    expect(found.longestHours).toBe(96);
    expect(found.finding.verdict).toBe('met');
    expect(found.times[0]!.meanPercent).toAgreeWithin(0.1, 1e-9);
  });

  it('is not met where the change exceeds the allowed one for sure before the wanted time, and says how far it is shown', () => {
    const found = solutionStability(rows({ 24: 0, 48: -0.2, 72: -3, 96: -6 }), options);
    expect(found.longestHours).toBe(48);
    expect(found.finding).toMatchObject({ verdict: 'not met', estimate: 48 });
    expect(found.finding.reason).toContain('At 72 h');
  });

  it('ignores a late change beyond the wanted time', () => {
    expect(solutionStability(rows({ 48: 0, 96: 0, 168: -9 }), options).finding.verdict).toBe('met');
  });

  it('is not shown where the tests end too early or the limits do not decide', () => {
    const early = solutionStability(rows({ 24: 0, 48: 0 }), options).finding;
    expect(early.verdict).toBe('not shown');
    expect(early.reason).toContain('Tested up to 48 h only');
    expect(solutionStability(rows({ 48: 0, 96: 1.95 }), options).finding.verdict).toBe('not shown');
  });

  it('says that a reading is missing where none was taken between the last kept and the wanted time', () => {
    const wanted = { ...options, criterion: criterion('at least', 24, 'h') };
    const reason = (changes: Record<number, number>) =>
      solutionStability(rows(changes), wanted).finding.reason;
    expect(reason({ 12: 0, 48: -9 })).toBe(
      'Shown up to 12 h; the next reading is at 48 h, and what is allowed is exceeded by then. A reading at 24 h is missing.',
    );
    expect(reason({ 12: 0, 48: 1.95 })).toContain('is not decided then. A reading at 24 h is missing.');
    expect(reason({ 12: 1.95, 48: 0 })).toBe(
      'Shown up to 0 h; at 12 h the limits do not decide. More digestions read over time would.',
    );
    expect(reason({ 12: 1.95 })).toContain('They must be read at 24 h or later too.');
  });

  it('widens by the error that all digestions of one run share', () => {
    const shared = { ...options, sharedStandardUncertaintyPercent: 1.5 };
    expect(solutionStability(rows({ 48: 0, 96: 0 }), shared).finding.verdict).toBe('not shown');
  });

  it('gives the slope of a steady change', () => {
    const found = solutionStability(rows({ 10: -0.1, 20: -0.2, 30: -0.3 }), options);
    expect(found.slopePercentPerHour).toAgreeWithin(-0.01, 1e-9);
  });

  it('shows nothing with one digestion', () => {
    const one = rows({ 48: 0, 96: 0 }).filter((row) => row.key === 'D-0');
    expect(solutionStability(one, options).finding.verdict).toBe('not shown');
  });

  it('refuses one time, a missing or doubled reading and a criterion of another kind', () => {
    const all = rows({ 48: 0, 96: 0 });
    expect(() => solutionStability(rows({}), options)).toThrow(InputError);
    expect(() => solutionStability(all.slice(1), options)).toThrow(InputError);
    expect(() => solutionStability([...all, all[1]!], options)).toThrow(InputError);
    const wrong = { ...options, criterion: criterion('at most', 96, 'h') };
    expect(() => solutionStability(all, wrong)).toThrow(InputError);
  });
});
