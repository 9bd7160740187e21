import fc from 'fast-check';
import { afterEach, beforeEach, expect, vi } from 'vitest';

// A run of the tests is repeatable; a hunt for rarer cases sets another seed and more runs.
fc.configureGlobal({
  seed: Number(process.env.MELTBOOK_PROPERTY_SEED ?? 20250314),
  numRuns: Number(process.env.MELTBOOK_PROPERTY_RUNS ?? 100),
});

// Nothing below the command line may write to the console: a stray warning is a defect.
const quiet = ['log', 'warn', 'error', 'info'] as const;

beforeEach(() => {
  for (const name of quiet) vi.spyOn(console, name);
});

afterEach(() => {
  for (const name of quiet) {
    const spy = vi.mocked(console[name]);
    const calls = spy.mock.calls.map((call) => call.join(' '));
    spy.mockRestore();
    expect(calls, `console.${name} was called`).toEqual([]);
  }
});

function relativeError(actual: number, expected: number): number {
  if (actual === expected) return 0;
  return expected === 0 ? Math.abs(actual) : Math.abs(actual - expected) / Math.abs(expected);
}

expect.extend({
  /** Relative agreement; absolute where the expected value is 0. */
  toAgreeWithin(actual: number, expected: number, relative: number) {
    const error = relativeError(actual, expected);
    return {
      pass: error <= relative,
      message: () =>
        `${actual} against ${expected}: relative error ${error.toExponential(2)}, allowed ${relative}`,
    };
  },
  /** Log relative error of at least `digits`. */
  toHaveCorrectDigits(actual: number, certified: number, digits: number) {
    const found = -Math.log10(relativeError(actual, certified));
    return {
      pass: found >= digits,
      message: () => `${actual} against ${certified}: ${found.toFixed(2)} digits, expected ${digits}`,
    };
  },
  /** Equal to a printed figure to half a unit of its last digit; the printed form is a string such as `0.0270`. */
  toRoundTo(actual: number, printed: string) {
    const [mantissa = '', exponent = '0'] = printed.toLowerCase().split('e');
    const decimals = (mantissa.split('.')[1] ?? '').length;
    const unit = 10 ** (Number(exponent) - decimals);
    const error = Math.abs(actual - Number(printed));
    return {
      pass: error <= unit / 2 + Math.abs(actual) * 1e-14,
      message: () => `${actual} does not round to ${printed}`,
    };
  },
});

declare module 'vitest' {
  interface Matchers<T> {
    toAgreeWithin(expected: number, relative: number): T;
    toHaveCorrectDigits(certified: number, digits: number): T;
    toRoundTo(printed: string): T;
  }
}
