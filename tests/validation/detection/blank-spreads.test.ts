import { describe, expect, it } from 'vitest';
import { blankSpreads } from '../../../src/validation/detection/blank-spreads.js';
import { detectionLimits } from '../../../src/validation/detection/detection-limits.js';
import { procedureBlank } from '../../../src/validation/detection/procedure-blank.js';
import { quantificationLimit } from '../../../src/validation/detection/quantification-limit.js';
import { believableCount, criterion, simulatedDays } from '../support.js';

const rowsOfRuns = (runs: readonly (readonly number[])[]) =>
  runs.flatMap((values, i) => values.map((value, j) => ({ key: `B-${i}-${j}`, run: `R-${i}`, value })));

const one = { digestionsPerResult: 1 };

describe('spread of blanks over runs', () => {
  it('takes the runs as units: exact figures of 3 runs of 2 blanks', () => {
    // Run means 10, 14, 18; MS between 2·16 = 32 over 2, MS within 2 over 3 degrees of freedom; variance between (32 − 2)/2 = 15.
    const runs = [
      [9, 11],
      [13, 15],
      [17, 19],
    ];
    const found = blankSpreads(rowsOfRuns(runs), one);
    expect(found.mean).toAgreeWithin(14, 1e-12);
    expect(found.ofMean!.standardUncertainty).toAgreeWithin(4 / Math.sqrt(3), 1e-12);
    expect(found.ofMean!.degreesOfFreedom).toBe(2);
    expect(found.total!.standardDeviation).toAgreeWithin(Math.sqrt(15 + 2), 1e-12);
    expect(found.withinRun!.standardDeviation).toAgreeWithin(Math.SQRT2, 1e-12);
    // Three degrees of freedom within runs are too few: χ² of the run means, of which one blank has at most twice the variance.
    // χ²(0.05; 2) = 0.1025865888 of any table.
    expect(found.total!.limits.upperOneSided).toAgreeWithin(Math.sqrt((2 * 16 * 2) / 0.1025865888), 1e-8);
    expect(found.total!.degreesOfFreedom).toBe(2);
    expect(found.atZero!.standardDeviation).toAgreeWithin(Math.sqrt(15 + 2 + 16 / 3), 1e-12);
  });

  it('divides only the scatter within a run by the digestions of a result, where runs hold blanks enough', () => {
    // Six runs of means 10 and 16 in turn, deviations ±1: MS within 2 over 6, variance of the means 10.8, between 10.8 − 1 = 9.8.
    const runs = [10, 16, 10, 16, 10, 16].map((mean) => [mean - 1, mean + 1]);
    const found = blankSpreads(rowsOfRuns(runs), { digestionsPerResult: 2 });
    expect(found.atZero!.standardDeviation).toAgreeWithin(Math.sqrt(9.8 + 2 / 2 + 10.8 / 6), 1e-12);
    expect(found.shared).toBe(false);
    // Graybill–Wang by hand, MS between 21.6: χ²(0.05; 5) = 1.145476226, χ²(0.05; 6) = 1.635382894.
    const [h1, h2] = [5 / 1.145476226 - 1, 6 / 1.635382894 - 1];
    expect(found.total!.limits.upperOneSided).toAgreeWithin(
      Math.sqrt(10.8 + 1 + Math.hypot(h1 * 10.8, h2 * 1)),
      1e-8,
    );
    // One blank a run does not tell the two apart: nothing is divided.
    const single = blankSpreads(rowsOfRuns([10, 16, 10, 16, 10, 16].map((value) => [value])), {
      digestionsPerResult: 2,
    });
    expect(single.atZero!.standardDeviation).toAgreeWithin(Math.sqrt(10.8 * (1 + 1 / 6)), 1e-12);
    expect(single.shared).toBe(true);
  });

  it('has limits of 0 where blanks do not scatter at all', () => {
    const found = blankSpreads(rowsOfRuns([1, 2, 3, 4, 5].map(() => [7, 7])), { digestionsPerResult: 2 });
    expect(found.total).toMatchObject({ standardDeviation: 0 });
    expect(found.atZero!.limits.high).toBe(0);
  });
});

describe('criteria on blanks set exactly at the truth', () => {
  const trials = 1500;
  const designs = [
    [3, 4],
    [6, 2],
    [12, 1],
  ] as const;
  const cases = designs.flatMap(([runs, perRun]) =>
    [0, 1, 2].flatMap((ratio) => [1, 2].map((m) => [runs, perRun, ratio, m] as const)),
  );

  it.each(cases)(
    'are met in at most 5 %%: %i runs of %i, scatter of runs %i times that within, %i digestions a result',
    (runs, perRun, ratio, m) => {
      // Standard deviation within a run 1: a result at content 0 has σ² = r² + 1/m and its blank (r² + 1/n)/runs.
      const truth = Math.sqrt(ratio ** 2 + 1 / m + (ratio ** 2 + 1 / perRun) / runs);
      const count = { blank: 0, quantification: 0, blankLimit: 0, quantificationLimit: 0 };
      for (let trial = 0; trial < trials; trial++) {
        const design = { days: runs, perDay: perRun, mean: 100, dayStandardDeviation: ratio };
        const values = simulatedDays(31, trial, { ...design, standardDeviation: 1 });
        const common = { analyte: 'A', level: 'blank', unit: 'mg/kg' };
        const blank = procedureBlank(rowsOfRuns(values), {
          ...common,
          criterion: criterion('at most', 100, 'mg/kg'),
          subtracted: 'over all runs',
          digestionsPerResult: m,
        });
        const atZero = detectionLimits(blank.atZero!, { spreadIs: 'of a result' });
        const limit = quantificationLimit({
          ...common,
          criterion: criterion('at most', 10 * truth, 'mg/kg'),
          standardDeviationAtZero: atZero.standardDeviationAtZero.inSolid,
          limitsAtZero: atZero.standardDeviationLimits95,
          degreesOfFreedom: atZero.degreesOfFreedom,
          approach: 'ten standard deviations',
          blanks: blank.n,
          tooFew: blank.tooFew,
          rows: [],
        });
        if (blank.finding.verdict === 'met') count.blank++;
        if (limit.finding.verdict === 'met') count.quantification++;
        // The limits by themselves, for three runs are too few for a verdict whatever the values.
        if (blank.finding.limits!.upperOneSided <= 100) count.blankLimit++;
        if (limit.limits!.upperOneSided <= 10 * truth) count.quantificationLimit++;
      }
      for (const found of Object.values(count))
        expect(found).toBeLessThanOrEqual(believableCount(0.05, trials));
      if (runs < 5) expect(count.blank + count.quantification).toBe(0);
      else expect(count.blank).toBeGreaterThanOrEqual(2 * 0.05 * trials - believableCount(0.05, trials));
    },
  );
});
