import { choleskyFactor, invertFactored } from '../arithmetic/cholesky.js';
import type { LikelihoodMaximum } from './likelihood/maximise-likelihood.js';

/** One component of variance from a likelihood fit. */
export interface VarianceComponent {
  readonly name: string;
  readonly variance: number;
  readonly standardDeviation: number;
  /** True where the component is held at 0, the edge of what is possible. */
  readonly atBoundary: boolean;
  /** Satterthwaite's 2θ²/var(θ) with the expected information; null for a component held at 0: it has none. */
  readonly degreesOfFreedom: number | null;
}

/** One fixed effect (the mean, where the model has no other). */
export interface FixedEffect {
  readonly estimate: number;
  readonly standardError: number;
  /** Satterthwaite degrees of freedom with the observed information. */
  readonly degreesOfFreedom: number;
  /** The same with the expected information: the textbook value in balanced designs. */
  readonly degreesOfFreedomExpected: number;
}

/** Variance components by restricted maximum likelihood. */
export interface RemlFit {
  /** In the order of the factors, the residual last. */
  readonly components: readonly VarianceComponent[];
  readonly totalVariance: number;
  readonly totalDegreesOfFreedom: number;
  readonly totalDegreesOfFreedomExpected: number;
  readonly fixed: readonly FixedEffect[];
  /** Covariance matrix of the components from the observed information; 0 in the rows of components held at 0. */
  readonly covariance: readonly (readonly number[])[];
  /** The same from the expected information. */
  readonly covarianceExpected: readonly (readonly number[])[];
  /** −2 log likelihood at the estimate. */
  readonly criterion: number;
  /** Derivative of the criterion by each component: 0 for free ones, positive for those held at 0. */
  readonly gradient: readonly number[];
  readonly n: number;
  readonly iterations: number;
  readonly method: string;
  readonly notes: readonly string[];
}

/** A fixed effect with the derivatives of its variance by the components. */
export interface EffectEstimate {
  readonly estimate: number;
  readonly variance: number;
  readonly varianceGradient: readonly number[];
}

/** Puts a likelihood maximum into words and degrees of freedom. */
export function summariseMaximum(
  names: readonly string[],
  maximum: LikelihoodMaximum,
  effects: readonly EffectEstimate[],
  n: number,
  method: string,
): RemlFit {
  const { components: theta, held, point } = maximum;
  const covariance = freeInverse(point.observed, held);
  const covarianceExpected = freeInverse(point.expected, held);
  const total = theta.reduce((a, b) => a + b, 0);
  const ones = theta.map(() => 1);
  const notes = names
    .filter((_, k) => held[k])
    .map((name) => `The component of ${name} is held at 0: the likelihood is largest there.`);
  return {
    components: names.map((name, k) => ({
      name,
      variance: theta[k]!,
      standardDeviation: Math.sqrt(theta[k]!),
      atBoundary: held[k]!,
      degreesOfFreedom: held[k] ? null : (2 * theta[k]! ** 2) / covarianceExpected[k]![k]!,
    })),
    totalVariance: total,
    totalDegreesOfFreedom: (2 * total ** 2) / quadratic(covariance, ones),
    totalDegreesOfFreedomExpected: (2 * total ** 2) / quadratic(covarianceExpected, ones),
    fixed: effects.map(({ estimate, variance, varianceGradient }) => ({
      estimate,
      standardError: Math.sqrt(variance),
      degreesOfFreedom: (2 * variance ** 2) / quadratic(covariance, varianceGradient),
      degreesOfFreedomExpected: (2 * variance ** 2) / quadratic(covarianceExpected, varianceGradient),
    })),
    covariance,
    covarianceExpected,
    criterion: point.value,
    gradient: point.gradient,
    n,
    iterations: maximum.iterations,
    method,
    notes,
  };
}

/** Inverse of half the second derivatives of the free components, 0 elsewhere. */
function freeInverse(second: readonly (readonly number[])[], held: readonly boolean[]): number[][] {
  const free = held.flatMap((is, k) => (is ? [] : [k]));
  const scale = free.map((i) => 1 / Math.sqrt(Math.abs(second[i]![i]!)));
  const scaled = free.map((i, a) => free.map((j, b) => second[i]![j]! * scale[a]! * scale[b]!));
  const inverse = invertFactored(choleskyFactor(scaled));
  const result = held.map(() => held.map(() => 0));
  free.forEach((i, a) => {
    free.forEach((j, b) => {
      result[i]![j] = 2 * inverse[a]![b]! * scale[a]! * scale[b]!;
    });
  });
  return result;
}

function quadratic(matrix: readonly (readonly number[])[], vector: readonly number[]): number {
  return matrix.reduce(
    (total, row, i) => total + vector[i]! * row.reduce((sum, value, j) => sum + value * vector[j]!, 0),
    0,
  );
}
