import { InputError, requireInteger, requireNonNegative } from '../errors.js';
import type { InputQuantity } from '../uncertainty/input-quantity.js';
import { recordedValue, takenAsExact } from './model-fragment.js';

/** Which random parts a budget counts: those of the chain's components, or the observed intermediate precision in their place. */
export type CountingRoute = 'components' | 'precision';

/** Scatter observed on results of the whole method at one level. */
export interface ObservedPrecision {
  /** Relative intermediate precision standard deviation of a result as reported (a fraction). */
  readonly relative: number;
  readonly degreesOfFreedom: number;
  readonly source: string;
}

/** Variation that the components do not predict, from observed and predicted scatter at the same nesting level. */
export interface UnexplainedVariation {
  /** Relative standard deviation (a fraction), 0 where the prediction reaches the observation. */
  readonly relative: number;
  readonly degreesOfFreedom: number;
  readonly source: string;
}

const typeA = { evaluation: 'A' as const, distribution: { kind: 't' as const }, withinPrecision: true };

/** Step under which budgets list the variation that no step of the chain predicts: it is not the known part of the fusion. */
export const unexplainedStep = 'unexplained variation';

/** Name of the factor that each route adds to the equation of the result. */
export const routeFactor: Readonly<Record<CountingRoute, string>> = {
  components: 'f_fd',
  precision: 'f_prec',
};

/** Route A: all components, and a factor for what they do not explain. */
export function componentsFactor(unexplained: UnexplainedVariation): InputQuantity {
  requireNonNegative(unexplained.relative, 'unexplained relative variation');
  return {
    ...recordedValue(
      'f_fd',
      'unexplained fusion–dissolution variation',
      '1',
      1,
      unexplainedStep,
      unexplained.source,
    ),
    ...typeA,
    standardUncertainty: unexplained.relative,
    degreesOfFreedom: unexplained.degreesOfFreedom,
  };
}

/** Route B: the observed intermediate precision stands for every random step. */
export function precisionFactor(observed: ObservedPrecision): InputQuantity {
  requireNonNegative(observed.relative, 'observed relative precision');
  return {
    ...recordedValue(
      'f_prec',
      'observed intermediate precision of the result',
      '1',
      1,
      'precision',
      observed.source,
    ),
    ...typeA,
    standardUncertainty: observed.relative,
    degreesOfFreedom: observed.degreesOfFreedom,
  };
}

/**
 * Inputs as a route counts them: on the precision route every input whose variation the observed precision already
 * holds is taken as exact.
 *
 * @throws InputError inputs that mix the factors of both routes
 */
export function countedOnce(inputs: readonly InputQuantity[], route: CountingRoute): InputQuantity[] {
  const other = route === 'components' ? routeFactor.precision : routeFactor.components;
  if (inputs.some((input) => input.name === other)) {
    throw new InputError(
      `budget by the ${route} route: found ${other}, which belongs to the other route; random parts would count twice`,
    );
  }
  if (route === 'components') return [...inputs];
  return inputs.map((input) =>
    input.withinPrecision && input.name !== routeFactor.precision && input.standardUncertainty > 0
      ? takenAsExact(input, 'its variation is held in the observed precision')
      : input,
  );
}

/**
 * Inputs of the mean of n digestions made in one run: what comes anew with each digestion averages out by √n, what the
 * digestions share does not. The sensitivities are those of one digestion, which is exact to first order for digestions alike.
 */
export function meanOfDigestions(inputs: readonly InputQuantity[], n: number): InputQuantity[] {
  requireInteger(n, 'digestions of a result', 1);
  if (n === 1) return [...inputs];
  return inputs.map((input) =>
    input.variesWith === 'digestion' && input.standardUncertainty > 0
      ? {
          ...input,
          description: `${input.description}, mean of ${n} digestions`,
          standardUncertainty: input.standardUncertainty / Math.sqrt(n),
          distribution: input.distribution.kind === 't' ? input.distribution : { kind: 'normal' },
        }
      : input,
  );
}
