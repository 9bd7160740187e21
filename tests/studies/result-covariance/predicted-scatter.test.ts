import { describe, expect, it } from 'vitest';
import { trueComponents } from '../../../src/scenario/design/components.js';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { evaluateStudy } from '../../../src/studies/evaluate-study.js';
import { nestedLevels } from '../../../src/studies/result-covariance/nested-levels.js';
import {
  explainedResult,
  predictedScatter,
} from '../../../src/studies/result-covariance/predicted-scatter.js';
import { scatterOfResults } from '../../../src/studies/result-covariance/scatter-of-results.js';
import { covarianceOf } from '../../../src/uncertainty/correlated-results/correlated-result.js';

describe('scatter that the chain predicts', () => {
  it('is half the variance of a difference within a day, and what two digestions share within a day but not over days', () => {
    const study = evaluateStudy(zirconPigmentStudy({ seed: 4 }).records);
    const { analytes, levels } = nestedLevels(study);
    const level = levels[0]!;
    const two = { ...level, days: new Map([...level.days].slice(0, 2)) };
    const zr = [...two.days.values()].map((rows) => rows.map((row) => explainedResult(row[0]!)));
    const cov = (a: number, i: number, b: number, j: number) =>
      covarianceOf(zr[a]![i]!, zr[b]![j]!) / level.centres[0]! ** 2;
    const within = [0, 1].map((d) => (cov(d, 0, d, 0) + cov(d, 1, d, 1) - 2 * cov(d, 0, d, 1)) / 2);
    const inDay = (cov(0, 0, 0, 1) + cov(1, 0, 1, 1)) / 2;
    const overDays = (cov(0, 0, 1, 0) + cov(0, 0, 1, 1) + cov(0, 1, 1, 0) + cov(0, 1, 1, 1)) / 4;
    const { digestions, days } = predictedScatter({ analytes, levels: [two] });
    expect(digestions[0]![0]!).toAgreeWithin((within[0]! + within[1]!) / 2, 1e-9);
    expect(days[0]![0]!).toAgreeWithin(inDay - overDays, 1e-9);
    // The first check solution of a run is beside both digestions: a part of every drift factor that does not average out.
    expect(days[0]![0]! / digestions[0]![0]!).toBeGreaterThan(0.2);
  });

  it('leaves unexplained what was planted: nothing between days in a ratio, the own part of two analytes within days', () => {
    const seeds = 24;
    const unexplained = Array.from({ length: seeds }, (_, i) => {
      const study = evaluateStudy(zirconPigmentStudy({ seed: 500 + i }).records);
      const nested = nestedLevels(study);
      const observed = scatterOfResults(nested);
      const predicted = predictedScatter(nested);
      const [zr, si] = ['Zr', 'Si'].map((a) => observed.analytes.indexOf(a)) as [number, number];
      const ofRatio = (m: readonly (readonly number[])[]) => m[zr]![zr]! + m[si]![si]! - 2 * m[zr]![si]!;
      return {
        digestions: ofRatio(observed.digestions) - ofRatio(predicted.digestions),
        days: ofRatio(observed.days) - ofRatio(predicted.days),
      };
    });
    const within = (of: (u: (typeof unexplained)[number]) => number, planted: number) => {
      const values = unexplained.map(of);
      const mean = values.reduce((a, b) => a + b, 0) / seeds;
      const s = Math.sqrt(values.reduce((a, b) => a + (b - mean) ** 2, 0) / (seeds - 1));
      expect(Math.abs(mean - planted) / (s / Math.sqrt(seeds))).toBeLessThan(3);
    };
    within((u) => u.days, 0);
    within((u) => u.digestions, 2 * trueComponents.digestionIndependent ** 2);
  });
});
