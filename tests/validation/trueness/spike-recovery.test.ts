import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { type SpikeRecoveryOptions, spikeRecovery } from '../../../src/validation/trueness/spike-recovery.js';
import type { SpikeRow } from '../../../src/validation/trueness/spike-row.js';
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

  describe('where spikes of several days share an unspiked digestion', () => {
    const onePartner = (rows: readonly SpikeRow[]) => rows.map((row) => ({ ...row, partners: ['U-0'] }));
    const unspiked = (days: readonly (readonly number[])[]) =>
      days.flatMap((values, d) =>
        values.map((value, j) => ({ key: j === 0 ? `U-${d}` : `V-${d}`, day: `u${d}`, sample: 'S', value })),
      );

    it('adds what the days have in common', () => {
      // Native ÷ added is 1/2. Unspiked, in % of their mean: MS between days 8, within 2, so s_day² = 3 and s_dig² = 2;
      // u² = (3 + 2)/4 in 1e-4 = 1 from MS between (ν = 2) and 0.25 from MS within (ν = 3): ν = 1.25²/(1/2 + 0.25²/3) = 3.
      const known = {
        ...options,
        unspiked: unspiked([
          [97, 99],
          [99, 101],
          [101, 103],
        ]),
      };
      const found = spikeRecovery(onePartner(spikes(valuesWith(1, 0.01, 9))), known);
      expect(found.partners.standardUncertainty).toAgreeWithin(Math.sqrt(1.25e-4), 1e-12);
      expect(found.partners.degreesOfFreedom).toAgreeWithin(3, 1e-9);
      expect(found.standardUncertainty).toAgreeWithin(Math.sqrt(1e-4 / 9 + 1.25e-4), 1e-12);
      expect(found.degreesOfFreedom).toAgreeWithin(
        (1 / 9 + 1.25) ** 2 / ((1 / 9) ** 2 / 8 + 1.25 ** 2 / 3),
        1e-9,
      );
      expect(found.finding.notes.join(' ')).toContain('common error, 1.1 % of the mean recovery');
    });

    it('adds nothing where each day has its own', () => {
      const known = {
        ...options,
        unspiked: unspiked([
          [97, 99],
          [99, 101],
          [101, 103],
        ]),
      };
      const found = spikeRecovery(spikes(valuesWith(1, 0.01, 9)), known);
      expect(found.partners.standardUncertainty).toBe(0);
      expect(found.standardUncertainty).toAgreeWithin(0.01 / 3, 1e-12);
    });

    it('shows nothing where nothing tells how it scatters from day to day', () => {
      for (const known of [[], unspiked([[99, 101]])]) {
        const rows = onePartner(spikes(valuesWith(1, 0.001, 9)));
        const { finding } = spikeRecovery(rows, { ...options, unspiked: known });
        expect(finding).toMatchObject({ verdict: 'not shown', limits: null });
        expect(finding.reason).toContain('on at least 2 days, better on each day of the spikes');
      }
    });

    // Days and digestions scatter by 1.5 % each, spiked or not; the addition is half the native amount and found to 95 %.
    it.each([
      ['one for all', () => ['U-0']],
      ['one for two days', (i: number) => [`U-${i - (i % 2)}`]],
      ['those of three days for all', () => ['U-0', 'U-1', 'U-2']],
    ])('has its lower limit above the truth in at most 5 % of studies: %s', (_, partnersOf) => {
      const trials = 3000;
      let wrong = 0;
      for (let trial = 0; trial < trials; trial++) {
        const results = simulatedDays(33, trial, {
          days: 6,
          perDay: 3,
          mean: 1,
          dayStandardDeviation: 0.015,
          standardDeviation: 0.015,
        });
        const plain = unspiked(results.map((values) => values.slice(1).map((value) => 2000 * value)));
        const rows = results.map(([spiked], i): SpikeRow => {
          const partners = partnersOf(i);
          const contents = plain.filter(({ key }) => partners.includes(key)).map(({ value }) => value);
          return {
            key: `S-${i}`,
            partners,
            day: `u${i}`,
            foundMg: (0.4 + 0.95 * 0.2) * spiked!,
            unspikedMgPerKg: contents.reduce((sum, w) => sum + w, 0) / contents.length,
            portionG: 0.2,
            addedMg: 0.2,
            addedStandardUncertaintyMg: 0,
          };
        });
        const { limits } = spikeRecovery(rows, { ...options, unspiked: plain }).finding;
        if (limits!.lowerOneSided > 95) wrong++;
      }
      expect(wrong).toBeLessThanOrEqual(believableCount(0.05, trials));
    });
  });

  it('refuses no spikes and amounts that cannot be', () => {
    expect(() => spikeRecovery([], options)).toThrow(InputError);
    expect(() => spikeRecovery([{ ...spikes([1])[0]!, addedMg: 0 }], options)).toThrow(InputError);
    expect(() => spikeRecovery([{ ...spikes([1])[0]!, portionG: 0 }], options)).toThrow(InputError);
  });
});
