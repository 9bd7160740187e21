import { describe, expect, it } from 'vitest';
import { acceptanceLimits } from '../../../src/uncertainty/conformity/acceptance-limits.js';
import {
  conformancePercent,
  conformanceProbability,
} from '../../../src/uncertainty/conformity/conformance-probability.js';
import { conformityStatement } from '../../../src/uncertainty/conformity/conformity-statement.js';
import { globalRisk } from '../../../src/uncertainty/conformity/global-risk.js';
import { normalDistribution } from '../../../src/uncertainty/distributions/normal.js';
import { rectangularDistribution } from '../../../src/uncertainty/distributions/rectangular.js';
import { reference } from '../../support/reference.js';

// Published examples of JCGM 106:2012 run as reference cases; here are the rules that no printed figure covers.
describe('conformanceProbability', () => {
  it('adds what lies within the limits and what lies without to one', () => {
    const normal = normalDistribution(10, 2);
    const inside = conformanceProbability(normal, { lower: 8, upper: 13 });
    const below = conformanceProbability(normal, { upper: 8 });
    const above = conformanceProbability(normal, { lower: 13 });
    expect(inside + below + above).toAgreeWithin(1, 1e-15);
  });

  it('keeps its digits far from the limits', () => {
    const far = conformanceProbability(normalDistribution(0, 1), { lower: 8, upper: 9 });
    const mirrored = conformanceProbability(normalDistribution(0, 1), { lower: -9, upper: -8 });
    // Φ(−8) − Φ(−9), from R: pnorm(-8) - pnorm(-9).
    expect(far).toAgreeWithin(6.219831985865831e-16, 1e-12);
    expect(mirrored).toAgreeWithin(far, 1e-12);
  });

  it('takes any distribution', () => {
    expect(conformanceProbability(rectangularDistribution(5, 1), { lower: 4.5, upper: 9 })).toBe(0.75);
  });

  it.each([
    [{}, 'neither a lower nor an upper'],
    [{ lower: 2, upper: 1 }, 'expected the lower below the upper'],
    [{ upper: Number.NaN }, 'found NaN'],
  ])('refuses the limits %j', (limits, message) => {
    expect(() => conformanceProbability(normalDistribution(0, 1), limits)).toThrow(message);
  });
});

describe('acceptanceLimits', () => {
  it('leave the stated risk at each limit', () => {
    for (const risk of [0.05, 0.01, 0.001]) {
      const found = acceptanceLimits(
        { lower: 90, upper: 110 },
        { standardUncertainty: 2 },
        { kind: 'guarded acceptance', risk },
      );
      const at = (y: number) => normalDistribution(y, 2);
      expect(1 - conformanceProbability(at(found.upper!), { upper: 110 })).toAgreeWithin(risk, 1e-9);
      expect(1 - conformanceProbability(at(found.lower!), { lower: 90 })).toAgreeWithin(risk, 1e-9);
      const rejection = acceptanceLimits(
        { upper: 110 },
        { relativeStandardUncertainty: 0.02 },
        { kind: 'guarded rejection', risk },
      );
      const y = rejection.upper!;
      expect(conformanceProbability(normalDistribution(y, 0.02 * y), { upper: 110 })).toAgreeWithin(
        risk,
        1e-9,
      );
    }
  });

  it('are the tolerance limits in simple acceptance', () => {
    const found = acceptanceLimits(
      { lower: 1, upper: 2 },
      { standardUncertainty: 9 },
      { kind: 'simple acceptance' },
    );
    expect([found.lower, found.upper, found.guardFactor]).toEqual([1, 2, 0]);
  });

  it('widen the guard band for few degrees of freedom', () => {
    const rule = { kind: 'guarded acceptance', risk: 0.05 } as const;
    const few = acceptanceLimits({ upper: 100 }, { standardUncertainty: 2, degreesOfFreedom: 4 }, rule);
    // t quantile for 0.95 and 4 degrees of freedom, from R: qt(0.95, 4).
    expect(few.guardFactor).toAgreeWithin(2.131846786326649, 1e-12);
  });

  it.each([
    [{ lower: 1, upper: 2 }, { standardUncertainty: 1 }, 0.05, 'leave nothing of the tolerance interval'],
    [{ upper: 2 }, { standardUncertainty: 1 }, 0.5, 'expected a number below 0.5'],
    [{ upper: 2 }, { standardUncertainty: 1 }, 0, 'risk: found 0'],
    [{ upper: 2 }, { standardUncertainty: 0 }, 0.05, 'standard uncertainty: found 0'],
    [{ lower: 2 }, { relativeStandardUncertainty: 0.7 }, 0.05, 'too large for this rule'],
  ])('refuse %j with %j at risk %d', (limits, uncertainty, risk, message) => {
    expect(() => acceptanceLimits(limits, uncertainty, { kind: 'guarded acceptance', risk })).toThrow(
      message,
    );
  });
});

describe('conformityStatement', () => {
  it('names specification, rule and probability', () => {
    const rule = { kind: 'guarded acceptance', risk: 0.05 } as const;
    const found = conformityStatement({ estimate: 97, standardUncertainty: 2 }, { upper: 100 }, rule);
    expect(found.accepted).toBe(false);
    expect(found.statement).toBe(
      'Rejected against the upper limit 100 by guarded acceptance with a risk of at most 5 % at each limit; ' +
        'conformance probability 93.3 %.',
    );
    const simple = { kind: 'simple acceptance' } as const;
    expect(
      conformityStatement({ estimate: 97, standardUncertainty: 2 }, { upper: 100 }, simple).accepted,
    ).toBe(true);
    expect(
      conformityStatement({ estimate: 89, standardUncertainty: 2 }, { lower: 90 }, simple).accepted,
    ).toBe(false);
  });
});

describe('a statement where guard bands leave nothing', () => {
  it('accepts no value, and says so', () => {
    const rule = { kind: 'guarded acceptance', risk: 0.05 } as const;
    // The bands of 1.645 · 2 from both sides pass each other in an interval of 6.
    const limits = { lower: 97, upper: 103 };
    const found = conformityStatement({ estimate: 100, standardUncertainty: 2 }, limits, rule);
    expect(found.accepted).toBe(false);
    expect(found.acceptance).toBeNull();
    // 2·Φ(1.5) − 1 = 0.8664.
    expect(found.statement).toBe(
      'Rejected against the limits 97 and 103 by guarded acceptance with a risk of at most 5 % at each limit; ' +
        'its guard bands leave nothing between the limits at this uncertainty, so that no value is accepted; ' +
        'conformance probability 86.6 %.',
    );
  });
});

describe('conformancePercent', () => {
  it.each([
    [1, '> 99.9'],
    [0.99999, '> 99.9'],
    [0.999, '99.9'],
    [0.9334, '93.3'],
    [0.001, '0.100'],
    [3e-16, '< 0.1'],
  ])('says %d as %s %%', (probability, words) => {
    expect(conformancePercent(probability)).toBe(words);
  });
});

describe('globalRisk', () => {
  // JCGM 106:2012, 9.5.4: inputs remembered, risks recomputed by another quadrature.
  const { process, standardUncertainty, tolerance, acceptance, recomputed } = reference<{
    process: { mean: number; standardDeviation: number };
    standardUncertainty: number;
    tolerance: { lower: number; upper: number };
    acceptance: { lower: number; upper: number };
    recomputed: Record<'conforming' | 'consumer' | 'producer', number> & {
      guardBand: Record<'lower' | 'upper' | 'consumer' | 'producer', number>;
    };
  }>('uncertainty/jcgm106-global-risk');

  it('agrees with another quadrature', () => {
    const simple = globalRisk(process, standardUncertainty, tolerance, acceptance);
    expect(simple.conforming).toAgreeWithin(recomputed.conforming, 1e-10);
    expect(simple.consumer).toAgreeWithin(recomputed.consumer, 1e-9);
    expect(simple.producer).toAgreeWithin(recomputed.producer, 1e-9);
    const { guardBand } = recomputed;
    const guarded = globalRisk(process, standardUncertainty, tolerance, guardBand);
    expect(guarded.consumer).toAgreeWithin(guardBand.consumer, 1e-9);
    expect(guarded.producer).toAgreeWithin(guardBand.producer, 1e-9);
  });

  it('balances what is accepted', () => {
    // Accepted = conforming − producer + consumer, and the measured value is normal with both variances.
    const risk = globalRisk(process, standardUncertainty, { upper: 1500.2 }, { upper: 1500.15 });
    const accepted = normalDistribution(
      process.mean,
      Math.hypot(process.standardDeviation, standardUncertainty),
    );
    expect(risk.conforming - risk.producer + risk.consumer).toAgreeWithin(accepted.cdf(1500.15), 1e-11);
  });

  it.each([1e-3, 1e-4, 1e-5, 1e-7])('keeps risks at the limit of an uncertainty of %d of the spread', (r) => {
    // X normal, e the error in units of u = r·σ, limit at z = 1: a consumer is harmed where X lies above it and e draws it below, so
    // that the risk is E[Φ(1 + r·|e|) − Φ(1); e < 0] = φ(1)·(r/√(2π) − r²/4 + 0·r³ + r⁴/8 − …), by φ' = −zφ, φ'' = (z² − 1)φ and
    // φ''' = (3z − z³)φ. The producer's has the other sign of the even terms.
    const density = Math.exp(-0.5) / Math.sqrt(2 * Math.PI);
    const odd = r / Math.sqrt(2 * Math.PI);
    const even = r ** 2 / 4 - r ** 4 / 8;
    const limit = { upper: 1500.12 };
    const found = globalRisk({ mean: 1500, standardDeviation: 0.12 }, r * 0.12, limit, limit);
    // The limit itself, at 1500.12 in double precision, is known to 2e-13 of 0.12.
    expect(found.consumer).toAgreeWithin(density * (odd - even), 1e-9);
    expect(found.producer).toAgreeWithin(density * (odd + even), 1e-9);
  });

  it('keeps them at both limits, and where acceptance is guarded', () => {
    const both = globalRisk(
      { mean: 0, standardDeviation: 1 },
      1e-5,
      { lower: -1, upper: 1 },
      { lower: -1, upper: 1 },
    );
    const one = globalRisk({ mean: 0, standardDeviation: 1 }, 1e-5, { upper: 1 }, { upper: 1 });
    expect(both.consumer).toAgreeWithin(2 * one.consumer, 1e-12);
    // Acceptance g = 2·u below the limit: the density hardly changes, so that the risk is φ(1)·u·(φ(2) − 2·Φ(−2)), as u·∫Φ(−t) from 2.
    const guarded = globalRisk({ mean: 0, standardDeviation: 1 }, 1e-6, { upper: 1 }, { upper: 1 - 2e-6 });
    const density = Math.exp(-0.5) / Math.sqrt(2 * Math.PI);
    const tail = Math.exp(-2) / Math.sqrt(2 * Math.PI) - 2 * 0.022750131948179;
    expect(guarded.consumer).toAgreeWithin(density * 1e-6 * tail, 1e-5);
  });

  it('refuses a process without spread', () => {
    expect(() => globalRisk({ mean: 1, standardDeviation: 0 }, 1, tolerance, acceptance)).toThrow('found 0');
  });
});
