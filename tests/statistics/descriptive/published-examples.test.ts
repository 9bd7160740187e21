import { describe, it } from 'vitest';
import { algorithmA } from '../../../src/statistics/descriptive/algorithm-a.js';
import { huberProposal2 } from '../../../src/statistics/descriptive/huber-proposal-2.js';
import { mean } from '../../../src/statistics/descriptive/mean.js';
import { median } from '../../../src/statistics/descriptive/median.js';
import { scaledMedianAbsoluteDeviation } from '../../../src/statistics/descriptive/scaled-median-absolute-deviation.js';
import { standardDeviation } from '../../../src/statistics/descriptive/standard-deviation.js';
import { expectPublished } from '../published.js';

describe('published robust estimates', () => {
  it('seven values: AMC Technical Brief 6 (remembered); the robust mean remembered is no fixed point', () => {
    expectPublished<{ x: number[] }>('amc-robust-mean', ({ x }, figure) => {
      const robust = algorithmA(x);
      const found: Record<string, number> = {
        mean: mean(x),
        s: standardDeviation(x),
        robust_mean: robust.location,
        robust_s: robust.scale,
      };
      return found[figure]!;
    });
  });

  it('copper and nickel: Venables and Ripley, section 5.5 (remembered, printed by its package); one figure comes from an early stop', () => {
    expectPublished<Record<string, number[]>>('venables-robust-copper-nickel', (inputs, figure) => {
      const [set, rest] = [figure.split('_')[0]!, figure.slice(figure.indexOf('_') + 1)];
      const x = inputs[set]!;
      const huber = huberProposal2(x, Number(rest.match(/k(\d\.?\d*)/)?.[1] ?? 1.5));
      if (rest.startsWith('hubers'))
        return rest.endsWith('s') && !rest.endsWith('hubers') ? huber.scale : huber.location;
      const plain: Record<string, number> = {
        mean: mean(x),
        median: median(x),
        mad: scaledMedianAbsoluteDeviation(x, 1.4826),
      };
      return plain[rest]!;
    });
  });
});
