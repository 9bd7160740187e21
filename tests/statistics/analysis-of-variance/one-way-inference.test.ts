import { describe, expect, it } from 'vitest';
import { oneWayAnalysis } from '../../../src/statistics/analysis-of-variance/one-way.js';
import {
  grandMean,
  intraclassCorrelation,
} from '../../../src/statistics/analysis-of-variance/one-way-inference.js';
import { type PublishedExample, readReference } from '../../support/reference-sets.js';

describe('inference from a one-way analysis', () => {
  const { inputs } = readReference<PublishedExample<{ yield_g: number[][] }, unknown>>(
    'statistics/davies-dyestuff',
  );
  const analysis = oneWayAnalysis(inputs.yield_g);

  it('intraclass correlation: the F interval of the ratio of components of the dyestuff example', () => {
    const { estimate, interval } = intraclassCorrelation(analysis);
    // Ratio of between to within, exact F interval by independent code: 0.0915076943609 to 5.57361994565.
    const ratio = (rho: number) => rho / (1 - rho);
    expect(ratio(estimate)).toAgreeWithin(1764.05 / 2451.25, 1e-14);
    expect(ratio(interval.low)).toAgreeWithin(0.0915076943609, 1e-11);
    expect(ratio(interval.high)).toAgreeWithin(5.57361994565, 1e-11);
  });

  it('grand mean: rests on the groups, not on the values', () => {
    const found = grandMean(analysis);
    expect(found.degreesOfFreedom).toBe(5);
    expect(found.standardUncertainty).toAgreeWithin(Math.sqrt(11271.5 / 30), 1e-14);
    expect(found.notes).toEqual([]);
    expect(
      grandMean(
        oneWayAnalysis([
          [1, 2],
          [3, 4, 5],
        ]),
      ).notes.join(' '),
    ).toContain('approximate');
  });

  it('says so when groups differ by less than chance, and answers for groups without spread', () => {
    expect(
      intraclassCorrelation(
        oneWayAnalysis([
          [1, 3],
          [3, 1.1],
          [2, 2.5],
        ]),
      ).notes.join(' '),
    ).toContain('below 0');
    expect(
      intraclassCorrelation(
        oneWayAnalysis([
          [1, 1],
          [2, 2],
        ]),
      ).estimate,
    ).toBe(1);
  });
});
