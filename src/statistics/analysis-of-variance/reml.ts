import { InputError } from '../../errors.js';
import { fixedEffects } from './likelihood/fixed-effects.js';
import { maximiseLikelihood } from './likelihood/maximise-likelihood.js';
import { dot, mixedDesign, type RandomFactor } from './likelihood/mixed-design.js';
import { mixedLikelihood } from './likelihood/mixed-likelihood.js';
import { type RemlFit, summariseMaximum } from './reml-fit.js';

/** Settings of a mixed-model fit. */
export interface RemlOptions {
  /** Columns of fixed effects, the constant included; default the constant alone. */
  readonly fixed?: readonly (readonly number[])[];
  /** Restricted likelihood (default) or the likelihood proper, whose components are too small by the fixed effects. */
  readonly likelihood?: 'restricted' | 'full';
}

/**
 * Variance components of any nested or crossed design by restricted maximum likelihood, with fixed effects if wanted.
 *
 * Time grows with the cube of the number of levels of all factors; for nested designs with a common mean `remlNested` is far
 * faster and gives the same.
 *
 * @param values n results in one unit
 * @param factors random factors; levels of equal name are one level, so a nested factor takes compound names
 * @returns components in the order of the factors, residual last, none below 0; fixed effects in the order of the columns
 * @throws InputError components or columns that the design does not tell apart, too few values, a value that is not finite
 * @see Patterson and Thompson 1971, Biometrika 58, 545; Searle, Casella and McCulloch, Variance Components, 1992, ch. 6
 * @example
 * reml([10.1, 10.3, 9.8, 10.0, 10.4, 10.2, 10.5], [{ name: 'day', levels: [1, 1, 2, 2, 3, 3, 3] }]).components[0].variance // => 0.046834
 */
export function reml(
  values: readonly number[],
  factors: readonly RandomFactor[],
  options: RemlOptions = {},
): RemlFit {
  if (factors.length === 0) throw new InputError('factors: found none, expected at least one');
  const { fixed = [values.map(() => 1)], likelihood = 'restricted' } = options;
  const design = mixedDesign(values, fixed, factors);
  const spread = dot(design.y, design.y);
  if (!(spread > 1e-28 * dot(values, values)))
    throw new InputError('values: found no spread beyond the fixed effects');
  const share = spread / Math.max(1, design.n - design.p) / (factors.length + 1);
  const start = [...factors.map(() => share), share];
  const maximum = maximiseLikelihood(mixedLikelihood(design, likelihood === 'restricted'), start);
  return summariseMaximum(
    [...factors.map((factor) => factor.name), 'residual'],
    maximum,
    fixedEffects(design, maximum.components),
    design.n,
    likelihood === 'restricted' ? 'restricted maximum likelihood' : 'maximum likelihood',
  );
}
