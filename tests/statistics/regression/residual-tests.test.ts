import { describe, expect, it } from 'vitest';
import { fitLine } from '../../../src/statistics/regression/line.js';
import { fitPolynomial } from '../../../src/statistics/regression/polynomial.js';
import { residualTests } from '../../../src/statistics/regression/residual-tests.js';
import { randomStream } from '../../../src/uncertainty/random-stream.js';

const x = Array.from({ length: 20 }, (_, i) => i / 2);

function simulated(label: string, trial: number, y: (value: number, noise: number) => number) {
  const stream = randomStream(trial, 'residuals', label);
  return fitLine(
    x,
    x.map((value) => y(value, stream.normal())),
  );
}

describe('residual tests', () => {
  it('find what was planted in most of 100 seeded lines: an outlier, a growing spread, curvature', () => {
    const found = { outlier: 0, growing: 0, curved: 0, mended: 0 };
    for (let trial = 0; trial < 100; trial++) {
      const outlier = simulated('outlier', trial, (v, z) => 1 + 2 * v + 0.1 * z + (v === 6 ? 1 : 0));
      const { farthest } = residualTests(outlier);
      if (farthest.index === 12 && farthest.pValue < 0.05) found.outlier++;
      const growing = simulated('growing', trial, (v, z) => 1 + 2 * v + 0.2 * (0.1 + v ** 2) * z);
      if (residualTests(growing).spread.pValue < 0.05) found.growing++;
      const curved = simulated('curved', trial, (v, z) => 1 + 2 * v + 0.1 * v ** 2 + 0.1 * z);
      if (residualTests(curved).runs.pFew < 0.05) found.curved++;
      if (residualTests(fitPolynomial(curved.x, curved.y, 2)).runs.pFew < 0.05) found.mended++;
    }
    expect(found.outlier).toBeGreaterThan(95);
    expect(found.growing).toBeGreaterThan(60);
    expect(found.curved).toBeGreaterThan(95);
    expect(found.mended).toBeLessThan(12);
  });

  it('reject a sound line as often as they should: 600 seeded lines', () => {
    // 5 % of 600 is 30; 3.3 standard deviations of it 17.6. Bonferroni and runs may reject less often.
    const count = { farthest: 0, spread: 0, normality: 0, runs: 0 };
    for (let trial = 0; trial < 600; trial++) {
      const found = residualTests(simulated('sound', trial, (v, z) => 1 + 2 * v + 0.1 * z));
      if (found.farthest.pValue < 0.05) count.farthest++;
      if (found.spread.pValue < 0.05) count.spread++;
      if (found.normality.pValue < 0.05) count.normality++;
      if (found.runs.pFew < 0.05) count.runs++;
    }
    for (const found of Object.values(count)) expect(found).toBeLessThanOrEqual(47);
    expect(count.farthest).toBeGreaterThanOrEqual(13);
    expect(count.normality).toBeGreaterThanOrEqual(13);
  });

  it('take the weights of the fit into account', () => {
    const stream = randomStream(4, 'weighted');
    const y = x.map((v) => 1 + 2 * v + (0.05 + 0.1 * v) * stream.normal());
    const weights = x.map((v) => (0.05 + 0.1 * v) ** -2);
    expect(residualTests(fitLine(x, y, weights)).spread.pValue).toBeGreaterThan(
      residualTests(fitLine(x, y)).spread.pValue,
    );
  });

  it('follow the order of x, not of the list', () => {
    const fit = simulated('order', 5, (v, z) => 1 + 2 * v + 0.1 * v ** 2 + 0.1 * z);
    const shuffled = x.map((_, i) => (i * 7) % 20);
    const again = fitLine(
      shuffled.map((i) => fit.x[i]!),
      shuffled.map((i) => fit.y[i]!),
    );
    expect(residualTests(again).runs.runs).toBe(residualTests(fit).runs.runs);
  });

  it('refuse too few points and a perfect fit', () => {
    expect(() => residualTests(fitLine([1, 2, 3, 4, 5], [1, 2, 3, 4, 6]))).toThrow('points: found 5');
    expect(() => residualTests(fitLine([1, 2, 3, 4, 5, 6], [2, 4, 6, 8, 10, 12]))).toThrow('perfect fit');
  });
});
