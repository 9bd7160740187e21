import { InputError, requireInteger, requireProbability } from '../../errors.js';
import { findRoot } from '../arithmetic/find-root.js';
import { chiSquaredQuantile } from '../distributions/chi-squared.js';
import type { Interval } from '../interval.js';
import type { Likelihood } from './likelihood/likelihood.js';
import { type LikelihoodMaximum, maximiseLikelihood } from './likelihood/maximise-likelihood.js';
import { mixedDesign, type RandomFactor, withValues } from './likelihood/mixed-design.js';
import { mixedLikelihood } from './likelihood/mixed-likelihood.js';
import { nestedLikelihood } from './likelihood/nested-likelihood.js';
import { nestedTree } from './likelihood/nested-tree.js';
import { type NestedFactor, nestedClasses } from './nested-classes.js';
import { type RemlOptions, reml } from './reml.js';
import { remlNested } from './reml-nested.js';

/** Profile-likelihood interval of one figure of a mixed model. */
export interface ProfileInterval {
  readonly name: string;
  readonly estimate: number;
  readonly interval: Interval;
  readonly method: string;
  readonly notes: readonly string[];
}

/**
 * Profile-likelihood intervals of the variance components of a nested design, from the restricted likelihood.
 *
 * Holds the values of a component that, with all others refitted, lower the likelihood by no more than half a χ² quantile.
 * Better than Satterthwaite's for few days; the coverage is approximate all the same.
 *
 * @param values n results in one unit
 * @param factors as for `remlNested`
 * @returns one interval a component, residual last; variances, their roots are limits of the standard deviation
 * @throws InputError as `remlNested`; coverage outside (0, 1)
 * @see Venzon and Moolgavkar 1988, Applied Statistics 37, 87
 * @example
 * nestedProfileIntervals([10.1, 10.3, 9.8, 10.0, 10.4, 10.2, 10.5], [{ name: 'day', levels: [1, 1, 2, 2, 3, 3, 3] }])[1].estimate // => 0.0216173
 */
export function nestedProfileIntervals(
  values: readonly number[],
  factors: readonly NestedFactor[],
  coverage = 0.95,
): ProfileInterval[] {
  const fit = remlNested(values, factors);
  const likelihood = nestedLikelihood(nestedTree(values, nestedClasses(values.length, factors)));
  return componentIntervals(likelihood, fit.components, coverage);
}

/**
 * Profile-likelihood intervals of the variance components of any nested or crossed design.
 *
 * @param values n results in one unit
 * @param factors as for `reml`
 * @throws InputError as `reml`; coverage outside (0, 1)
 * @see Venzon and Moolgavkar 1988, Applied Statistics 37, 87
 * @example
 * profileIntervals([10.1, 10.3, 9.8, 10.0, 10.4, 10.2, 10.5], [{ name: 'day', levels: [1, 1, 2, 2, 3, 3, 3] }])[1].estimate // => 0.0216173
 */
export function profileIntervals(
  values: readonly number[],
  factors: readonly RandomFactor[],
  coverage = 0.95,
  options: RemlOptions = {},
): ProfileInterval[] {
  const fit = reml(values, factors, options);
  const design = mixedDesign(values, options.fixed ?? [values.map(() => 1)], factors);
  const likelihood = mixedLikelihood(design, options.likelihood !== 'full');
  return componentIntervals(likelihood, fit.components, coverage);
}

/**
 * Profile-likelihood interval of a fixed effect (the common mean, by default), from the likelihood proper: the restricted one
 * says nothing of fixed effects.
 *
 * @param effect index of the column
 * @throws InputError as `reml`; no such column; coverage outside (0, 1)
 * @see Venzon and Moolgavkar 1988, Applied Statistics 37, 87
 * @example
 * effectProfileInterval([10.1, 10.3, 9.8, 10.0, 10.4, 10.2, 10.5], [{ name: 'day', levels: [1, 1, 2, 2, 3, 3, 3] }]).estimate // => 10.16247
 */
export function effectProfileInterval(
  values: readonly number[],
  factors: readonly RandomFactor[],
  effect = 0,
  coverage = 0.95,
  fixed: readonly (readonly number[])[] = [values.map(() => 1)],
): ProfileInterval {
  requireProbability(coverage, 'coverage');
  requireInteger(effect, 'effect', 0, fixed.length - 1);
  const fit = reml(values, factors, { fixed, likelihood: 'full' });
  const { estimate, standardError } = fit.fixed[effect]!;
  const others = fixed.filter((_, k) => k !== effect);
  const design = mixedDesign(values, others, factors);
  let near = fit.components.map((component) => component.variance);
  const excess = (value: number): number => {
    const shifted = values.map((y, i) => y - value * fixed[effect]![i]!);
    const maximum = maximiseLikelihood(mixedLikelihood(withValues(design, shifted), false), near);
    near = [...maximum.components];
    return signedRoot(maximum.point.value - fit.criterion) - reach;
  };
  const reach = Math.sqrt(chiSquaredQuantile(coverage, 1));
  const limit = (direction: number): number => {
    let far = 2 * standardError;
    while (excess(estimate + direction * far) < 0) far *= 2;
    return estimate + direction * findRoot((d) => excess(estimate + direction * d), far / 4096, far, 1e-8);
  };
  return {
    name: `effect ${effect + 1}`,
    estimate,
    interval: { low: limit(-1), high: limit(1), coverage },
    method: 'profile likelihood',
    notes: [],
  };
}

function signedRoot(value: number): number {
  return value > 0 ? Math.sqrt(value) : 0;
}

function componentIntervals(
  likelihood: Likelihood,
  components: readonly { readonly name: string; readonly variance: number }[],
  coverage: number,
): ProfileInterval[] {
  requireProbability(coverage, 'coverage');
  const best = components.map((component) => component.variance);
  const lowest = likelihood.valueAt(best);
  const reach = Math.sqrt(chiSquaredQuantile(coverage, 1));
  return components.map(({ name, variance }, k) => {
    let near: readonly number[] = best;
    const excess = (value: number): number => {
      const start = near.map((v, i) => (i === k ? value : v));
      const maximum: LikelihoodMaximum = maximiseLikelihood(likelihood, start, [k]);
      near = maximum.components;
      return signedRoot(maximum.point.value - lowest) - reach;
    };
    const notes: string[] = [];
    const high = upperLimit(excess, variance, best, notes);
    near = best;
    const low = lowerLimit(excess, variance, k === components.length - 1, notes);
    return {
      name,
      estimate: variance,
      interval: { low, high, coverage },
      method: 'profile likelihood',
      notes,
    };
  });
}

function upperLimit(
  excess: (value: number) => number,
  variance: number,
  all: readonly number[],
  notes: string[],
): number {
  const total = all.reduce((a, b) => a + b, 0);
  let below = variance;
  let above = Math.max(2 * variance, 1e-3 * total);
  while (excess(above) < 0) {
    below = above;
    above *= 2;
    if (above > 1e12 * total) {
      notes.push('The likelihood sets no upper limit.');
      return Number.POSITIVE_INFINITY;
    }
  }
  return findRoot(excess, below, above, 1e-11);
}

function lowerLimit(
  excess: (value: number) => number,
  variance: number,
  residual: boolean,
  notes: string[],
): number {
  if (variance === 0) return 0;
  let above = variance;
  let below = variance / 2;
  while (excess(below) < 0) {
    above = below;
    below /= 2;
    if (below < 1e-6 * variance && !residual) {
      if (excess(0) > 0) return findRoot(excess, 0, above, 1e-11);
      notes.push('The lower limit is 0: the data do not show this component.');
      return 0;
    }
    if (below < 1e-300) throw new InputError('profile: found no lower limit of the residual component');
  }
  return findRoot(excess, below, above, 1e-11);
}
