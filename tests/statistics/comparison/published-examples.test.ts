import { describe, it } from 'vitest';
import { pairedTTest } from '../../../src/statistics/comparison/paired-t-test.js';
import { tTestOfDifference } from '../../../src/statistics/comparison/t-test.js';
import { varianceRatio } from '../../../src/statistics/comparison/variance-ratio.js';
import { standardDeviation } from '../../../src/statistics/descriptive/standard-deviation.js';
import { fUpperQuantile } from '../../../src/statistics/distributions/f.js';
import { studentTQuantile } from '../../../src/statistics/distributions/student-t.js';
import { expectPublished } from '../published.js';

describe('published examples of comparison (Miller and Miller, remembered)', () => {
  it('paracetamol by two methods, example 3.4.1: paired t test', () => {
    expectPublished<{ uv: number[]; nir: number[] }>('miller-paired-t-paracetamol', ({ uv, nir }, figure) => {
      const test = pairedTTest(uv, nir);
      const found: Record<string, number> = {
        mean_d: test.difference,
        s_d: standardDeviation(uv.map((x, i) => x - nir[i]!)),
        t: test.t,
        t_crit: studentTQuantile(0.975, test.degreesOfFreedom),
      };
      return found[figure]!;
    });
  });

  it('boron in plants, example 3.3.1: pooled t test; its t comes from a rounded standard deviation', () => {
    type Groups = Record<'mean1' | 's1' | 'n1' | 'mean2' | 's2' | 'n2', number>;
    expectPublished<Groups>('miller-pooled-t-boron', ({ mean1, s1, n1, mean2, s2, n2 }, figure) => {
      const nu = n1 + n2 - 2;
      const pooled = Math.sqrt(((n1 - 1) * s1 ** 2 + (n2 - 1) * s2 ** 2) / nu);
      const test = tTestOfDifference(mean1 - mean2, pooled * Math.sqrt(1 / n1 + 1 / n2), nu);
      const found: Record<string, number> = {
        s_pooled: pooled,
        t: test.t,
        t_crit: studentTQuantile(0.975, nu),
      };
      return found[figure]!;
    });
  });

  it('oxygen demand, example 3.6.1: F test', () => {
    type Groups = Record<'s1' | 'n1' | 's2' | 'n2', number>;
    expectPublished<Groups>('miller-f-test-oxygen-demand', ({ s1, n1, s2, n2 }, figure) => {
      if (figure === 'F') return varianceRatio((s1 / s2) ** 2, n1 - 1, n2 - 1).ratio;
      return fUpperQuantile(0.05, n1 - 1, n2 - 1);
    });
  });
});
