import { describe, expect, it } from 'vitest';
import { exactValue } from '../../../src/uncertainty/inputs/exact-value.js';
import { fromCertificate } from '../../../src/uncertainty/inputs/from-certificate.js';
import { fromCounts } from '../../../src/uncertainty/inputs/from-counts.js';
import {
  degreesOfFreedomFromReliability,
  fromJudgement,
} from '../../../src/uncertainty/inputs/from-judgement.js';
import { fromLimits } from '../../../src/uncertainty/inputs/from-limits.js';
import { fromRecords } from '../../../src/uncertainty/inputs/from-records.js';
import { jointFromRecords } from '../../../src/uncertainty/inputs/joint-from-records.js';

const about = { name: 'x', description: 'quantity', unit: 'g', source: 'paper', step: 'weighing' };

describe('fromCertificate', () => {
  it('divides U by the stated factor, or by the quantile of the stated probability', () => {
    const k = fromCertificate({ ...about, value: 1, expandedUncertainty: 0.4, coverageFactor: 2 });
    expect([k.standardUncertainty, k.degreesOfFreedom, k.distribution.kind]).toEqual([
      0.2,
      Infinity,
      'normal',
    ]);
    const t = fromCertificate({
      ...about,
      value: 1,
      expandedUncertainty: 10,
      coverageProbability: 0.95,
      degreesOfFreedom: 5,
    });
    // JCGM 100:2008, H.1.3.2 (remembered): 10 nm over t95(5) is 3.9 nm.
    expect(t.standardUncertainty).toRoundTo('3.9');
    expect([t.degreesOfFreedom, t.distribution.kind]).toEqual([5, 't']);
  });

  it.each([
    [{ expandedUncertainty: 0.4 }, 'found neither of coverage factor and probability'],
    [{ expandedUncertainty: 0.4, coverageFactor: 2, coverageProbability: 0.95 }, 'found both'],
    [{ expandedUncertainty: 0, coverageFactor: 2 }, 'expanded uncertainty of "x": found 0'],
    [{ expandedUncertainty: -1, coverageFactor: 2 }, 'found -1'],
    [{ expandedUncertainty: 1, coverageFactor: 0 }, 'coverage factor of "x": found 0'],
    [{ expandedUncertainty: 1, coverageProbability: 95 }, 'coverage probability: found 95'],
  ])('refuses %j', (stated, message) => {
    expect(() => fromCertificate({ ...about, value: 1, ...stated })).toThrow(message);
  });
});

describe('fromLimits', () => {
  it.each([
    [{ kind: 'rectangular' }, 2 / Math.sqrt(3)],
    [{ kind: 'triangular' }, 2 / Math.sqrt(6)],
    [{ kind: 'arcsine' }, 2 / Math.SQRT2],
    [{ kind: 'trapezoidal', topHalfWidth: 1 }, Math.sqrt(5 / 6)],
    [{ kind: 'curvilinear trapezoid', halfWidthUncertainty: 0.3 }, Math.sqrt(4 / 3 + 0.01)],
  ] as const)('takes the middle of the limits with the spread of %j', (shape, u) => {
    const made = fromLimits({ ...about, lower: 3, upper: 7, shape });
    expect(made.estimate).toBe(5);
    expect(made.standardUncertainty).toAgreeWithin(u, 1e-14);
    expect(made.distribution).toEqual({ ...shape, halfWidth: 2 });
    expect(made.sourceKind).toBe('specification');
  });

  it.each([
    [7, 3, { kind: 'rectangular' }, 'found 7 and 3, expected the lower limit below the upper'],
    [3, 3, { kind: 'rectangular' }, 'found 3 and 3'],
    [3, Infinity, { kind: 'rectangular' }, 'found Infinity'],
    [3, 7, { kind: 'trapezoidal', topHalfWidth: 2 }, 'half-width of the top: found 2'],
    [3, 7, { kind: 'curvilinear trapezoid', halfWidthUncertainty: 3 }, 'expected below the half-width 2'],
  ] as const)('refuses %d to %d with %j', (lower, upper, shape, message) => {
    expect(() => fromLimits({ ...about, lower, upper, shape })).toThrow(message);
  });
});

describe('fromRecords', () => {
  it('gives mean, s/√n and n − 1', () => {
    const made = fromRecords({ ...about, values: [1, 2, 3, 6], equipment: 'B1', withinPrecision: true });
    expect([made.estimate, made.degreesOfFreedom, made.evaluation]).toEqual([3, 3, 'A']);
    expect(made.standardUncertainty).toAgreeWithin(Math.sqrt(14 / 3 / 4), 1e-14);
    expect([made.equipment, made.withinPrecision, made.distribution.kind]).toEqual(['B1', true, 't']);
  });

  it('takes a pooled standard deviation in place of that of few values', () => {
    const made = fromRecords({
      ...about,
      values: [5],
      pooled: { standardDeviation: 0.3, degreesOfFreedom: 20 },
    });
    expect([made.estimate, made.standardUncertainty, made.degreesOfFreedom]).toEqual([5, 0.3, 20]);
  });

  it.each([
    [{ values: [5] }, 'found 1 value(s), expected at least 2'],
    [{ values: [5, Number.NaN] }, 'found NaN at position 2'],
    [{ values: [5], pooled: { standardDeviation: 0, degreesOfFreedom: 3 } }, 'found 0'],
    [
      { values: [5], pooled: { standardDeviation: 1, degreesOfFreedom: 0 } },
      'degrees of freedom of "x": found 0',
    ],
  ])('refuses %j', (stated, message) => {
    expect(() => fromRecords({ ...about, ...stated })).toThrow(message);
  });
});

describe('jointFromRecords', () => {
  const [x, y] = [
    { ...about, name: 'x', values: [1, 2, 3, 4] },
    { ...about, name: 'y', values: [2, 1, 4, 3] },
  ];

  it('shares one source and correlates every pair', () => {
    const { inputs, correlations } = jointFromRecords('rows', [
      x!,
      y!,
      { ...about, name: 'z', values: [4, 3, 2, 1] },
    ]);
    expect(inputs.every((made) => made.jointSource === 'rows' && made.degreesOfFreedom === 3)).toBe(true);
    expect(correlations.map(({ first, second }) => first + second)).toEqual(['xy', 'xz', 'yz']);
    expect(correlations[0]!.coefficient).toAgreeWithin(0.6, 1e-14);
    expect(correlations[1]!.coefficient).toAgreeWithin(-1, 1e-14);
  });

  it('refuses one quantity, unequal numbers and no spread', () => {
    expect(() => jointFromRecords('rows', [x!])).toThrow('found 1 quantity');
    expect(() => jointFromRecords('rows', [x!, { ...about, name: 'y', values: [1, 2] }])).toThrow(
      'equally many',
    );
    expect(() => jointFromRecords('rows', [x!, { ...about, name: 'y', values: [1, 1, 1, 1] }])).toThrow(
      'spread',
    );
  });
});

describe('fromJudgement', () => {
  // JCGM 100:2008, G.4.2 and H.1.6 (remembered): 25 % has 8, 10 % has 50, 50 % has 2 degrees of freedom.
  it.each([
    [0.25, 8],
    [0.1, 50],
    [0.5, 2],
  ])('turns a reliability of %d into %d degrees of freedom', (reliability, nu) => {
    expect(degreesOfFreedomFromReliability(reliability)).toBe(nu);
    const made = fromJudgement({ ...about, value: 1, standardUncertainty: 0.1, reliability });
    expect([made.degreesOfFreedom, made.distribution.kind]).toEqual([nu, 't']);
  });

  it('is normal where nothing is said of its reliability', () => {
    const made = fromJudgement({ ...about, value: 1, standardUncertainty: 0.1 });
    expect([made.degreesOfFreedom, made.distribution.kind]).toEqual([Infinity, 'normal']);
  });

  it('refuses no uncertainty', () => {
    expect(() => fromJudgement({ ...about, value: 1, standardUncertainty: 0 })).toThrow('found 0');
    expect(() => degreesOfFreedomFromReliability(0)).toThrow('found 0');
  });
});

describe('fromCounts and exactValue', () => {
  it('have the mean and spread of a gamma distribution, and none', () => {
    const made = fromCounts({ ...about, counts: 24, perCount: 0.1 });
    expect(made.estimate).toAgreeWithin(2.5, 1e-15);
    expect(made.standardUncertainty).toAgreeWithin(0.5, 1e-15);
    expect(fromCounts({ ...about, counts: 0 }).estimate).toBe(1);
    expect(exactValue({ ...about, value: 2 }).sourceKind).toBe('definition');
  });

  it('refuse what is no count or number', () => {
    expect(() => fromCounts({ ...about, counts: -1 })).toThrow('counts of "x": found -1');
    expect(() => fromCounts({ ...about, counts: 1.5 })).toThrow('found 1.5');
    expect(() => fromCounts({ ...about, counts: 1, perCount: 0 })).toThrow('quantity per count');
    expect(() => exactValue({ ...about, value: Number.NaN })).toThrow('found NaN');
  });
});
