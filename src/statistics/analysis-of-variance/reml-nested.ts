import { InputError, requireFinite, requireSameLength } from '../../errors.js';
import { maximiseLikelihood } from './likelihood/maximise-likelihood.js';
import { nestedLikelihood } from './likelihood/nested-likelihood.js';
import { nestedStart } from './likelihood/nested-start.js';
import { type NestedTree, nestedTree } from './likelihood/nested-tree.js';
import { classCount, type NestedFactor, nestedClasses } from './nested-classes.js';
import { type RemlFit, summariseMaximum } from './reml-fit.js';

/**
 * Variance components of a nested design by restricted maximum likelihood, balanced or not, to any depth, with a common mean.
 *
 * Answers: repeatability, variation between runs and between days, and the mean with its uncertainty, when groups differ in
 * size. In balanced designs without negative components the estimates are those of `nestedAnalysis`. Level names are read
 * within the level above.
 *
 * @param values n results in one unit
 * @param factors outermost first; each with n level names
 * @returns components (outermost first, residual last), none below 0; the mean as the one fixed effect
 * @throws InputError a factor without repetition of its levels or within them, replicates without any spread, a value that is
 *   not finite
 * @see Patterson and Thompson 1971, Biometrika 58, 545; Searle, Casella and McCulloch, Variance Components, 1992, ch. 6
 * @example
 * remlNested([10.1, 10.3, 9.8, 10.0, 10.4, 10.2, 10.5], [{ name: 'day', levels: [1, 1, 2, 2, 3, 3, 3] }]).components[0].variance // => 0.046834
 */
export function remlNested(values: readonly number[], factors: readonly NestedFactor[]): RemlFit {
  requireFinite(values, 'values', 3);
  if (factors.length === 0) throw new InputError('factors: found none, expected at least one');
  factors.forEach((factor) => {
    requireSameLength(values, 'values', factor.levels, factor.name);
  });
  const classes = nestedClasses(values.length, factors);
  requireDepths(classes, factors);
  const tree = nestedTree(values, classes);
  requireSpread(tree);
  const names = [...factors.map((factor) => factor.name), 'residual'];
  const likelihood = nestedLikelihood(tree);
  const maximum = maximiseLikelihood(likelihood, nestedStart(tree));
  const { mean, meanVariance, meanVarianceGradient } = maximum.point;
  const effect = { estimate: mean, variance: meanVariance, varianceGradient: meanVarianceGradient };
  return summariseMaximum(
    names,
    maximum,
    [effect],
    values.length,
    'restricted maximum likelihood, nested design',
  );
}

/** Every stratum needs degrees of freedom. */
function requireDepths(classes: readonly (readonly number[])[], factors: readonly NestedFactor[]): void {
  const counts = classes.map(classCount);
  factors.forEach(({ name }, k) => {
    if (counts[k + 1] === counts[k]) {
      throw new InputError(
        `${name}: found one level in every level above, expected at least two in one of them`,
      );
    }
  });
  if (counts[counts.length - 1] === counts[counts.length - 2]) {
    const { name } = factors[factors.length - 1]!;
    throw new InputError(`${name}: found one value in every level; it cannot be told from the residual`);
  }
}

function requireSpread(tree: NestedTree): void {
  if (!(tree.within > 1e-28 * tree.scale ** 2)) {
    throw new InputError(
      'values: found no spread within the innermost levels; the residual variance is 0 and the likelihood has no maximum',
    );
  }
}
