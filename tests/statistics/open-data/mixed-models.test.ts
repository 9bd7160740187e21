import { describe, expect, it } from 'vitest';
import { maximiseLikelihood } from '../../../src/statistics/analysis-of-variance/likelihood/maximise-likelihood.js';
import { mixedDesign } from '../../../src/statistics/analysis-of-variance/likelihood/mixed-design.js';
import { mixedLikelihood } from '../../../src/statistics/analysis-of-variance/likelihood/mixed-likelihood.js';
import {
  effectProfileInterval,
  profileIntervals,
} from '../../../src/statistics/analysis-of-variance/profile-interval.js';
import { reml } from '../../../src/statistics/analysis-of-variance/reml.js';
import type { RemlFit } from '../../../src/statistics/analysis-of-variance/reml-fit.js';
import { remlNested } from '../../../src/statistics/analysis-of-variance/reml-nested.js';
import { chiSquaredQuantile } from '../../../src/statistics/distributions/chi-squared.js';
import { type Agreement, type Computed, expectBlock } from '../../support/expect-block.js';
import {
  blockAt,
  classicalSet,
  type JsonObject,
  openDataFolder,
  openSet,
} from '../../support/reference-sets.js';
import { classicalModels, type MixedModel, openModels } from './mixed-models.js';

type Block = { [key: string]: Computed };

function named(fit: RemlFit, value: (k: number) => Computed): Block {
  return Object.fromEntries(fit.components.map(({ name }, k) => [name, value(k)]));
}

function exactBlock(fit: RemlFit): Block {
  const held = fit.components.flatMap((component) => (component.atBoundary ? [component.name] : []));
  const free = fit.components.flatMap((component, k) =>
    component.atBoundary ? [] : [Math.abs(fit.gradient[k]!)],
  );
  return {
    components: named(fit, (k) => fit.components[k]!.variance),
    sds: named(fit, (k) => fit.components[k]!.standardDeviation),
    at_boundary: held,
    reml_criterion: fit.criterion,
    gradient_max_abs_free: Math.max(...free) / 2,
    // The reference differentiates the log likelihood, ours is −2 times it.
    gradient_at_boundary: fit.components.flatMap((c, k) => (c.atBoundary ? [-fit.gradient[k]! / 2] : [])),
    fixed: fit.fixed.map((effect) => ({
      estimate: effect.estimate,
      se: effect.standardError,
      satterthwaite_df_observed_information: effect.degreesOfFreedom,
      satterthwaite_df_expected_information: effect.degreesOfFreedomExpected,
    })),
    component_covariance_expected_information: fit.covarianceExpected,
    component_covariance_observed_information: fit.covariance,
    total_variance: fit.totalVariance,
    total_sd: Math.sqrt(fit.totalVariance),
    satterthwaite_df_total_expected_information: fit.totalDegreesOfFreedomExpected,
    satterthwaite_df_total_observed_information: fit.totalDegreesOfFreedom,
    satterthwaite_df_each_component_expected_information: named(
      fit,
      (k) => fit.components[k]!.degreesOfFreedom,
    ),
  };
}

/** 1e-9, with an absolute share of the scale where a figure may be 0 by symmetry or by convergence. */
function exactAgreement(fit: RemlFit, values: readonly number[]): (path: string) => Agreement {
  const information = fit.covarianceExpected.map((row, i) => row[i]!);
  const spread = Math.max(...values.map(Math.abs));
  return (path) => {
    if (path === 'gradient_max_abs_free') return { relative: 0, absolute: 1e-8 / fit.totalVariance };
    const cell = /^component_covariance_\w+\/(\d+)\/(\d+)$/.exec(path);
    if (cell) {
      const scale = Math.sqrt(information[Number(cell[1])]! * information[Number(cell[2])]!);
      return { relative: 1e-9, absolute: 1e-9 * scale };
    }
    if (/^fixed\/\d+\/estimate$/.test(path)) return { relative: 1e-9, absolute: 1e-12 * spread };
    return { relative: 1e-9 };
  };
}

function expectExact(model: MixedModel): void {
  const block = blockAt(model.results, 'reml_exact');
  const fit = reml(model.values, model.factors, { fixed: model.fixed });
  expectBlock(block, exactBlock(fit), exactAgreement(fit, model.values));
  if (!model.nested) return;
  const nested = remlNested(model.values, model.factors);
  expectBlock(block, exactBlock(nested), exactAgreement(nested, model.values));
}

/** lme4 stops at its optimiser's accuracy: about 1e-6 of the total variance. */
function expectLme4(model: MixedModel): void {
  const block = blockAt(model.results, 'lme4_reml');
  const fit = reml(model.values, model.factors, { fixed: model.fixed });
  const residualName = (name: string) => (name === 'Residual' ? 'residual' : name);
  const total = fit.totalVariance;
  const variance = (name: string) => fit.components.find((c) => c.name === residualName(name))!.variance;
  for (const [name, value] of Object.entries(blockAt(block, 'components'))) {
    expect(Math.abs(variance(name) - (value as number)), `${model.name} ${name}`).toBeLessThan(2e-6 * total);
    const sd = blockAt(block, 'sds')[name] as number;
    expect(Math.abs(variance(name) - sd ** 2), `${model.name} sd ${name}`).toBeLessThan(2e-6 * total);
  }
  expect(fit.criterion).toAgreeWithin(block.reml_criterion as number, 1e-8);
  expect(-fit.criterion / 2).toAgreeWithin(block.logLik as number, 1e-8);
  expect(fit.components.some((c) => c.atBoundary)).toBe(block.singular);
  (block.fixed as readonly JsonObject[]).forEach((effect, i) => {
    const found = fit.fixed[i]!;
    expect(Math.abs(found.estimate - (effect.estimate as number))).toBeLessThan(1e-6 * found.standardError);
    expect(found.standardError).toAgreeWithin(effect.se as number, 2e-6);
    expect(found.degreesOfFreedom).toAgreeWithin(effect.satterthwaite_df as number, 2e-5);
  });
}

function expectFullLikelihood(model: MixedModel): void {
  const block = blockAt(model.results, 'lme4_ml');
  const fit = reml(model.values, model.factors, { fixed: model.fixed, likelihood: 'full' });
  for (const [name, value] of Object.entries(blockAt(block, 'components'))) {
    const found = fit.components.find((c) => c.name === (name === 'Residual' ? 'residual' : name))!;
    expect(Math.abs(found.variance - (value as number)), `${model.name} ${name}`).toBeLessThan(
      2e-6 * fit.totalVariance,
    );
  }
  expect(fit.criterion).toAgreeWithin(block.deviance as number, 1e-8);
  expect(fit.fixed[0]!.standardError).toAgreeWithin(block.intercept_se as number, 2e-6);
}

/** Limits where the reference's spline is off by more than the rest; the test shows it by the likelihood itself. */
const interpolated = ['assay plate .sig01 low', 'assay plate .sig03 high'];

/** Profiles of the likelihood proper, spline-interpolated in the reference to about four figures. */
function expectProfiles(model: MixedModel): void {
  const block = blockAt(model.results, 'lme4_profile_ci95');
  const options = { fixed: model.fixed, likelihood: 'full' } as const;
  const intervals = profileIntervals(model.values, model.factors, 0.95, options);
  const order = Object.keys(blockAt(model.results, 'lme4_reml', 'components')).filter(
    (n) => n !== 'Residual',
  );
  const keys = Object.keys(block).filter((key) => key !== 'how');
  for (const key of keys.filter((k) => k.startsWith('.'))) {
    const sig = /^\.sig0?(\d+)$/.exec(key);
    const [low, high] = block[key] as readonly [number, number];
    const { interval, name } = intervals.find(
      (i) => i.name === (sig ? order[Number(sig[1]) - 1] : 'residual'),
    )!;
    const scale = Math.sqrt(interval.high);
    for (const [end, theirs] of [
      ['low', low],
      ['high', high],
    ] as const) {
      const where = `${model.name} ${key} ${end}`;
      if (interpolated.includes(where)) expectFalseLimit(model, name, interval[end], theirs ** 2);
      else expect(Math.abs(Math.sqrt(interval[end]) - theirs), where).toBeLessThan(5e-4 * scale);
    }
  }
  keys
    .filter((key) => !key.startsWith('.'))
    .forEach((key, effect) => {
      const { interval } = effectProfileInterval(model.values, model.factors, effect, 0.95, model.fixed);
      const [low, high] = block[key] as readonly [number, number];
      const width = interval.high - interval.low;
      expect(Math.abs(interval.low - low), `${model.name} ${key}`).toBeLessThan(5e-4 * width);
      expect(Math.abs(interval.high - high), `${model.name} ${key}`).toBeLessThan(5e-4 * width);
    });
}

/** At our limit −2 log likelihood has risen by the χ² quantile, 3.8415; at the reference's it has not. */
function expectFalseLimit(model: MixedModel, name: string, ours: number, theirs: number): void {
  const k = model.factors.findIndex((factor) => factor.name === name);
  const likelihood = mixedLikelihood(mixedDesign(model.values, model.fixed, model.factors), false);
  const fit = reml(model.values, model.factors, { fixed: model.fixed, likelihood: 'full' });
  const rise = (value: number) => {
    const start = fit.components.map((c, i) => (i === k ? value : c.variance));
    return maximiseLikelihood(likelihood, start, [k]).point.value - fit.criterion;
  };
  const target = chiSquaredQuantile(0.95, 1);
  expect(rise(ours)).toAgreeWithin(target, 1e-8);
  expect(Math.abs(rise(theirs) - target)).toBeGreaterThan(1e-3);
}

function testsOf(models: readonly MixedModel[]): void {
  for (const model of models) {
    it(`${model.name}: agrees with dense matrices to 1e-9`, () => expectExact(model));
    it(`${model.name}: agrees with lme4 as far as its optimiser goes`, () => {
      expectLme4(model);
      expectFullLikelihood(model);
    });
    if ('lme4_profile_ci95' in model.results) {
      it(`${model.name}: profiles agree with lme4 to about four figures`, () => expectProfiles(model));
    }
  }
}

describe('restricted maximum likelihood, classical data sets', () => {
  testsOf(classicalModels(classicalSet));

  it('leaves out no block of the reference', () => {
    const names = classicalModels(classicalSet).map((model) => model.results);
    expect(names.every((results) => 'reml_exact' in results)).toBe(true);
    expect(names).toHaveLength(18);
  });
});

describe.skipIf(!openDataFolder)(
  'restricted maximum likelihood, open data (needs MELTBOOK_REFERENCE_DATA)',
  () => {
    testsOf(openDataFolder ? openModels(openSet) : []);
  },
);
