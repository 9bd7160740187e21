import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { studentTQuantile } from '../../../src/statistics/distributions/student-t.js';
import { carryOver } from '../../../src/validation/stability/carry-over.js';
import { criterion } from '../support.js';

const options = { analyte: 'Fe', level: 'CAL-6', unit: 'mg/kg', criterion: criterion('at most', 0.1, '%') };
const row = (run: string, found: number, zero = 0, richContent = 10) => ({
  ...{ key: `${run}|8`, run, after: 'CAL-6' },
  ...{ richContent, found, zero },
});

describe('carry-over in the spectrometer', () => {
  it('is the mean excess over the zero standard of the run, relative to the rich solution', () => {
    const found = carryOver(
      [row('R-1', 0.03, 0.01), row('R-2', 0.05, 0.01), row('R-3', 0.04, -0.02)],
      options,
    );
    // Differences 0.02, 0.04 and 0.06 mg/kg: mean 0.04, s = 0.02; of 10 mg/kg 0.4 %.
    expect(found.excess).toAgreeWithin(0.04, 1e-12);
    expect(found.finding.estimate).toAgreeWithin(0.4, 1e-12);
    const half = (100 * studentTQuantile(0.95, 2) * 0.02) / Math.sqrt(3) / 10;
    expect(found.finding.limits!.upperOneSided).toAgreeWithin(0.4 + half, 1e-12);
    expect(found.finding.degreesOfFreedom).toBe(2);
    expect(found.finding.verdict).toBe('not shown');
  });

  it('is met where zero solutions are alike, and not met where they are not', () => {
    const runs = ['R-1', 'R-2', 'R-3', 'R-4'];
    const with_ = (excess: number) =>
      carryOver(
        runs.map((run, i) => row(run, excess + i * 1e-4, 0)),
        options,
      );
    expect(with_(0.001).finding.verdict).toBe('met');
    expect(with_(0.05).finding.verdict).toBe('not met');
  });

  it('takes several zero solutions of one run as one', () => {
    const found = carryOver([row('R-1', 0.02), row('R-1', 0.04), row('R-2', 0.03)], options);
    expect(found.finding.n).toBe(2);
    expect(found.excess).toAgreeWithin(0.03, 1e-12);
  });

  it('is not shown by one run', () => {
    expect(carryOver([row('R-1', 0)], options).finding).toMatchObject({ verdict: 'not shown', limits: null });
  });

  it('refuses nothing, and a rich solution without content', () => {
    expect(() => carryOver([], options)).toThrow(InputError);
    expect(() => carryOver([row('R-1', 0, 0, 0)], options)).toThrow('CAL-6 in run R-1');
    expect(() => carryOver([row('R-1', Number.NaN)], options)).toThrow(InputError);
  });
});
