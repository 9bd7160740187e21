import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { mixedDesign } from '../../../src/statistics/analysis-of-variance/likelihood/mixed-design.js';
import { mixedLikelihood } from '../../../src/statistics/analysis-of-variance/likelihood/mixed-likelihood.js';
import { nestedLikelihood } from '../../../src/statistics/analysis-of-variance/likelihood/nested-likelihood.js';
import { nestedTree } from '../../../src/statistics/analysis-of-variance/likelihood/nested-tree.js';
import { nestedAnalysis } from '../../../src/statistics/analysis-of-variance/nested.js';
import { nestedClasses } from '../../../src/statistics/analysis-of-variance/nested-classes.js';
import {
  nestedProfileIntervals,
  profileIntervals,
} from '../../../src/statistics/analysis-of-variance/profile-interval.js';
import { reml } from '../../../src/statistics/analysis-of-variance/reml.js';
import { remlNested } from '../../../src/statistics/analysis-of-variance/reml-nested.js';
import { randomStream } from '../../../src/uncertainty/random-stream.js';
import { type PublishedExample, readReference } from '../../support/reference-sets.js';

/** An unbalanced nested set: days of unequal runs of unequal readings. */
function unbalanced(seed: number, daySd: number, runSd: number) {
  const stream = randomStream(seed, 'reml');
  const values: number[] = [];
  const day: number[] = [];
  const run: string[] = [];
  for (let d = 0; d < 7; d++) {
    const ofDay = daySd * stream.normal();
    for (let r = 0; r < 1 + (d % 3); r++) {
      const ofRun = runSd * stream.normal();
      for (let k = 0; k < 1 + ((d + r) % 3); k++) {
        values.push(50 + ofDay + ofRun + stream.normal());
        day.push(d);
        run.push(`${d}/${r}`);
      }
    }
  }
  return {
    values,
    factors: [
      { name: 'day', levels: day },
      { name: 'run', levels: run },
    ],
  };
}

describe('restricted maximum likelihood', () => {
  it('nested: value and derivatives are those of the general likelihood', () => {
    const { values, factors } = unbalanced(1, 2, 1);
    const general = mixedLikelihood(mixedDesign(values, [values.map(() => 1)], factors));
    const nested = nestedLikelihood(nestedTree(values, nestedClasses(values.length, factors)));
    for (const theta of [
      [1.3, 0.4, 0.9],
      [0, 0.7, 1.1],
      [5, 0, 0.2],
    ]) {
      const [a, b] = [general.at(theta), nested.at(theta)];
      expect(b.value).toAgreeWithin(a.value, 1e-12);
      expect(nested.valueAt(theta)).toAgreeWithin(b.value, 1e-13);
      theta.forEach((_, i) => {
        expect(b.gradient[i]).toAgreeWithin(a.gradient[i]!, 1e-9);
        theta.forEach((__, j) => {
          expect(b.observed[i]![j]).toAgreeWithin(a.observed[i]![j]!, 1e-9);
          expect(b.expected[i]![j]).toAgreeWithin(a.expected[i]![j]!, 1e-9);
        });
      });
    }
  });

  it('nested: the derivatives are those of the value', () => {
    const { values, factors } = unbalanced(2, 2, 1);
    const likelihood = nestedLikelihood(nestedTree(values, nestedClasses(values.length, factors)));
    const theta = [1.3, 0.4, 0.9];
    const moved = (k: number, step: number) => theta.map((v, i) => (i === k ? v + step : v));
    const point = likelihood.at(theta);
    theta.forEach((_, k) => {
      const step = 1e-5;
      const slope = (likelihood.valueAt(moved(k, step)) - likelihood.valueAt(moved(k, -step))) / (2 * step);
      expect(point.gradient[k]).toAgreeWithin(slope, 1e-6);
      theta.forEach((__, j) => {
        const second =
          (likelihood.at(moved(k, step)).gradient[j]! - likelihood.at(moved(k, -step)).gradient[j]!) /
          (2 * step);
        expect(point.observed[k]![j]).toAgreeWithin(second, 1e-6);
      });
    });
  });

  it('nested and general agree on unbalanced sets, components at 0 included', () => {
    let held = 0;
    for (let seed = 0; seed < 30; seed++) {
      const { values, factors } = unbalanced(seed, seed % 3 === 0 ? 0 : 1, seed % 2 === 0 ? 0 : 1);
      const a = remlNested(values, factors);
      const b = reml(values, factors);
      expect(a.criterion).toAgreeWithin(b.criterion, 1e-11);
      a.components.forEach((component, k) => {
        expect(component.atBoundary).toBe(b.components[k]!.atBoundary);
        expect(Math.abs(component.variance - b.components[k]!.variance)).toBeLessThan(1e-9 * a.totalVariance);
        if (component.atBoundary) {
          held++;
          expect(component.degreesOfFreedom).toBeNull();
          expect(a.gradient[k]).toBeGreaterThanOrEqual(0);
        } else {
          expect(Math.abs(a.gradient[k]! * a.totalVariance)).toBeLessThan(1e-8);
        }
      });
      expect(a.fixed[0]!.estimate).toAgreeWithin(b.fixed[0]!.estimate, 1e-11);
      expect(a.fixed[0]!.standardError).toAgreeWithin(b.fixed[0]!.standardError, 1e-9);
      expect(a.fixed[0]!.degreesOfFreedom).toAgreeWithin(b.fixed[0]!.degreesOfFreedom, 1e-7);
    }
    expect(held).toBeGreaterThan(5);
  });

  it('settles a small residual beside a component a million times larger', () => {
    for (let seed = 0; seed < 20; seed++) {
      const { values, factors } = unbalanced(seed, 1000, seed % 2);
      const a = remlNested(values, factors);
      const b = reml(values, factors);
      // The general form loses digits to the ratio of the components, the nested one does not.
      expect(a.components[2]!.variance).toAgreeWithin(b.components[2]!.variance, 1e-6);
      expect(Math.abs(a.criterion - b.criterion)).toBeLessThan(1e-6);
      a.gradient.forEach((slope, k) => {
        const { variance, atBoundary } = a.components[k]!;
        if (!atBoundary) expect(Math.abs(slope * variance)).toBeLessThan(1e-7);
      });
    }
  });

  it('no point near the estimate has a higher likelihood', () => {
    for (let seed = 0; seed < 10; seed++) {
      const { values, factors } = unbalanced(seed, 1, 0.5);
      const likelihood = nestedLikelihood(nestedTree(values, nestedClasses(values.length, factors)));
      const found = remlNested(values, factors);
      const best = found.components.map((c) => c.variance);
      const stream = randomStream(seed, 'near');
      for (let i = 0; i < 200; i++) {
        const other = best.map((v) =>
          Math.max(1e-9, v * (1 + stream.normal()) + 0.3 * Math.max(0, stream.normal())),
        );
        expect(likelihood.valueAt(other)).toBeGreaterThanOrEqual(found.criterion - 1e-9);
      }
    }
  });

  it('balanced: gives the components of expected mean squares where none is negative', () => {
    const effect = fc.integer({ min: -40, max: 40 });
    fc.assert(
      fc.property(fc.array(effect, { minLength: 24, maxLength: 24 }), (noise) => {
        const day = noise.map((_, i) => Math.floor(i / 6));
        const run = noise.map((_, i) => Math.floor(i / 2));
        const values = noise.map(
          (z, i) => 100 + z / 10 + 6 * Math.sin(3 * day[i]!) + 4 * Math.cos(5 * run[i]!),
        );
        const factors = [
          { name: 'day', levels: day },
          { name: 'run', levels: run },
        ];
        const { strata } = nestedAnalysis(values, factors);
        fc.pre(strata.every((s) => s.varianceUnconstrained > 1e-3));
        const found = remlNested(values, factors);
        strata.forEach((s, k) => {
          expect(Math.abs(found.components[k]!.variance - s.variance)).toBeLessThan(
            1e-9 * found.totalVariance,
          );
        });
        expect(found.fixed[0]!.degreesOfFreedomExpected).toAgreeWithin(3, 1e-8);
      }),
      { numRuns: 40 },
    );
  });

  it('shifts, scales and permutes as it should', () => {
    const { values, factors } = unbalanced(3, 1, 1);
    const base = remlNested(values, factors);
    const order = values.map((_, i) => i).sort((a, b) => Math.sin(a) - Math.sin(b));
    const moved = remlNested(
      order.map((i) => 1e6 + 8 * values[i]!),
      factors.map((f) => ({ name: f.name, levels: order.map((i) => f.levels[i]!) })),
    );
    moved.components.forEach((component, k) => {
      expect(component.variance).toAgreeWithin(64 * base.components[k]!.variance, 1e-8);
    });
    expect(moved.fixed[0]!.estimate).toAgreeWithin(1e6 + 8 * base.fixed[0]!.estimate, 1e-14);
  });

  it('refuses designs that do not tell components apart, replicates without spread, values that are not finite', () => {
    const day = { name: 'day', levels: [1, 1, 2, 2, 3, 3] };
    const once = { name: 'run', levels: [1, 2, 1, 2, 1, 2] };
    expect(() => remlNested([1, 2, 3, 4, 5, 6], [])).toThrow('factors: found none');
    expect(() => remlNested([1, 2, 3, 4, 5, 6], [day, once])).toThrow('run: found one value in every level');
    expect(() => remlNested([1, 2, 3, 4, 5, 6], [day, { name: 'run', levels: [1, 1, 1, 1, 1, 1] }])).toThrow(
      'run: found one level in every level above',
    );
    expect(() => remlNested([1, 1, 3, 3, 5, 5], [day])).toThrow('no spread within');
    expect(() => remlNested([1, 2, 3, Number.NaN, 5, 6], [day])).toThrow(InputError);
    expect(() => reml([1, 2, 3, 4, 5, 6.5], [day, { ...day, name: 'batch' }])).toThrow(
      'does not tell them apart',
    );
    expect(() => reml([1, 2, 3, 4, 5, 6], [{ name: 'row', levels: [1, 2, 3, 4, 5, 6] }])).toThrow(
      'one value in every level',
    );
    expect(() =>
      reml([1, 2, 3, 4, 5, 7], [day], {
        fixed: [
          [1, 1, 1, 1, 1, 1],
          [2, 2, 2, 2, 2, 2],
        ],
      }),
    ).toThrow('fixed column 2: found a linear combination');
    expect(() => reml([2, 2, 2, 2, 2, 2], [day])).toThrow('no spread beyond the fixed effects');
  });
});

describe('likelihood fits of the dyestuff example', () => {
  // Davies and Goldsmith 1972, section 6.4: figures remembered and recomputed; the full maximum likelihood
  // estimates are those of R.
  it('gives restricted and full maximum likelihood', () => {
    const { inputs, published } = readReference<
      PublishedExample<{ yield_g: number[][] }, Record<string, string>>
    >('statistics/davies-dyestuff');
    const factor = { name: 'batch', levels: inputs.yield_g.flatMap((g, i) => g.map(() => i)) };
    const values = inputs.yield_g.flat();
    const [batch, residual] = remlNested(values, [factor]).components;
    expect(batch!.variance).toRoundTo(published.var_between!);
    expect(batch!.standardDeviation).toRoundTo(published.sd_between!);
    expect(residual!.standardDeviation).toRoundTo(published.sd_within!);
    const full = reml(values, [factor], { likelihood: 'full' });
    expect(full.components[0]!.variance).toRoundTo(published.ML_var_between!);
    expect(full.components[0]!.standardDeviation).toRoundTo(published.ML_sd_between!);
  });
});

describe('profile-likelihood intervals', () => {
  it('nested and general agree, and contain the estimate', () => {
    const { values, factors } = unbalanced(5, 2, 1);
    const nested = nestedProfileIntervals(values, factors);
    const general = profileIntervals(values, factors);
    nested.forEach((interval, k) => {
      expect(interval.interval.low).toBeLessThanOrEqual(interval.estimate);
      expect(interval.interval.high).toBeGreaterThan(interval.estimate);
      expect(interval.interval.low).toAgreeWithin(general[k]!.interval.low, 1e-7);
      expect(interval.interval.high).toAgreeWithin(general[k]!.interval.high, 1e-7);
    });
  });

  it('ends at 0 for a component the data do not show, and says so', () => {
    const { values, factors } = unbalanced(9, 0.3, 0.3);
    const low = nestedProfileIntervals(values, factors).filter((i) => i.interval.low === 0);
    expect(low.length).toBeGreaterThan(0);
    for (const { estimate, notes } of low) if (estimate > 0) expect(notes.join(' ')).toContain('do not show');
  });
});
