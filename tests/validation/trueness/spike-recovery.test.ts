import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import {
  type SpikeRecoveryOptions,
  type SpikeRow,
  spikeRecovery,
} from '../../../src/validation/trueness/spike-recovery.js';
import { believableCount, criterion, simulatedDays, valuesWith } from '../support.js';

const options: SpikeRecoveryOptions = {
  analyte: 'Al',
  level: 'low',
  criterion: criterion('within', 105, '%', 95),
  stage: 'before fusion',
};

/** Spikes of 1 mg on 0.2 g with 2500 mg/kg (0.5 mg) native, with the given recoveries. */
function spikes(recoveries: readonly number[], uncertainty = 0): SpikeRow[] {
  return recoveries.map((r, i) => ({
    key: `S-${i + 1}`,
    partners: [`U-${i + 1}`],
    day: `2026-03-${String(i + 1).padStart(2, '0')}`,
    foundMg: 0.5 + r,
    unspikedMgPerKg: 2500,
    portionG: 0.2,
    addedMg: 1,
    addedStandardUncertaintyMg: uncertainty,
  }));
}

describe('recovery of additions', () => {
  it('takes the native amount off and divides by the amount added', () => {
    const found = spikeRecovery(spikes([0.98]), options);
    expect(found.spikes[0]!.recovery).toAgreeWithin(0.98, 1e-12);
    expect(found.spikes[0]!.addedPerNative).toAgreeWithin(2, 1e-12);
  });

  // Nordtest TR 537, bias from recovery tests (remembered, recomputed): root mean square of the bias 3.44 %.
  it('gives the recovery example of Nordtest TR 537', () => {
    const found = spikeRecovery(spikes([0.95, 0.98, 0.97, 0.96, 0.99, 0.96]), options);
    const squares = found.spikes.map((spike) => (100 * spike.recovery - 100) ** 2);
    expect(Math.sqrt(squares.reduce((sum, square) => sum + square, 0) / 6)).toRoundTo('3.44');
  });

  // QUAM:2012, Example A4: mean recovery 0.90, s 0.28, n 42; u = 0.0432, t = 2.31, critical 2.02 (read in a public copy).
  it('gives the recovery of QUAM example A4', () => {
    const found = spikeRecovery(spikes(valuesWith(0.9, 0.28, 42)), options);
    expect(found.standardUncertainty).toRoundTo('0.0432');
    expect((1 - found.overDays.mean) / found.standardUncertainty).toRoundTo('2.31');
    const { high } = found.finding.limits!;
    expect((high / 100 - 0.9) / found.standardUncertainty).toRoundTo('2.02');
  });

  it('carries the uncertainty of the amounts added as common to all', () => {
    const found = spikeRecovery(spikes(valuesWith(1, 0.01, 9), 0.004), options);
    expect(found.standardUncertainty).toAgreeWithin(Math.hypot(0.01 / 3, 0.004), 1e-12);
  });

  it('gives recovery as a ratio where the criterion is one', () => {
    const ratio = { ...options, criterion: criterion('within', 1.05, '1', 0.95) };
    expect(spikeRecovery(spikes(valuesWith(1, 0.01, 6)), ratio).finding.estimate).toAgreeWithin(1, 1e-12);
  });

  it('judges and names the stage', () => {
    expect(spikeRecovery(spikes(valuesWith(1, 0.01, 6)), options).finding).toMatchObject({
      verdict: 'met',
      characteristic: 'recovery before fusion',
    });
    const after = spikeRecovery(spikes(valuesWith(0.8, 0.01, 6)), { ...options, stage: 'after dissolution' });
    expect(after.finding).toMatchObject({ verdict: 'not met', characteristic: 'recovery after dissolution' });
    expect(after.finding.notes.join(' ')).toContain('do not test losses in fusion');
  });

  it('shows nothing with spikes of one day', () => {
    const rows = spikes([0.99, 1, 1.01]).map((row) => ({ ...row, day: '2026-03-01' }));
    expect(spikeRecovery(rows, options).finding.verdict).toBe('not shown');
  });

  it('declares a recovery at the edge met in at most 5 % of studies', () => {
    const trials = 4000;
    let met = 0;
    for (let trial = 0; trial < trials; trial++) {
      const days = simulatedDays(31, trial, {
        days: 6,
        perDay: 1,
        mean: 1.05,
        dayStandardDeviation: 0.01,
        standardDeviation: 0,
      });
      if (spikeRecovery(spikes(days.flat()), options).finding.verdict === 'met') met++;
    }
    expect(met).toBeLessThanOrEqual(believableCount(0.05, trials));
  });

  it('refuses no spikes and amounts that cannot be', () => {
    expect(() => spikeRecovery([], options)).toThrow(InputError);
    expect(() => spikeRecovery([{ ...spikes([1])[0]!, addedMg: 0 }], options)).toThrow(InputError);
    expect(() => spikeRecovery([{ ...spikes([1])[0]!, portionG: 0 }], options)).toThrow(InputError);
  });
});
