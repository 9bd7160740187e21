import { describe, expect, it } from 'vitest';
import { IntervalCoverage } from '../../src/coverage/interval-coverage.js';
import { zirconPigmentStudy } from '../../src/scenario/zircon-pigment-study.js';
import { evaluateStudy } from '../../src/studies/evaluate-study.js';

describe('coverage of intervals', () => {
  const seeds = 60;
  const coverage = new IntervalCoverage();
  for (let seed = 820_001; seed <= 820_000 + seeds; seed++) {
    const study = zirconPigmentStudy({ seed, overlap: false, calciumBlanksUsable: 12 });
    coverage.add(study, evaluateStudy(study.records), []);
  }
  const counts = coverage.counts();

  it('is what is stated, for analytes, totals and ratios by both counting routes', () => {
    const stated = counts.filter((c) => !c.quantity.includes('without'));
    expect(stated).toHaveLength(2 * (8 + 2 + 2));
    expect(stated.filter((c) => c.covered < c.believed.low || c.covered > c.believed.high)).toEqual([]);
  });

  it.each(['components', 'precision'] as const)(
    'is lost on the %s route where covariances are left out',
    (route) => {
      const of = (quantity: string) => counts.find((c) => c.quantity === quantity && c.route === route)!;
      const kept = of('mean total of the day');
      const left = of('the same without covariances');
      // Some 95 % fall to about 75 %: what the results of a day share was taken to average out.
      expect(left.covered).toBeLessThan(left.believed.low);
      expect(kept.covered - left.covered).toBeGreaterThan(0.1 * seeds);
      expect(left.widthAgainstOracle).toBeLessThan(0.75 * kept.widthAgainstOracle);
      expect(of('total without covariances').widthAgainstOracle).toBeLessThan(
        of('total of oxides').widthAgainstOracle,
      );
    },
  );
});
