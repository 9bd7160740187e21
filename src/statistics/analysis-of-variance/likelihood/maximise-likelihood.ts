import { InputError } from '../../../errors.js';
import { solveFactored, tryCholesky } from '../../arithmetic/cholesky.js';
import type { Likelihood, LikelihoodPoint } from './likelihood.js';

/** Components at which a likelihood is largest, none below 0. */
export interface LikelihoodMaximum<Point extends LikelihoodPoint = LikelihoodPoint> {
  readonly components: readonly number[];
  readonly point: Point;
  /** True where a component lies on the boundary 0. */
  readonly held: readonly boolean[];
  readonly iterations: number;
}

/**
 * Largest likelihood over components of at least 0, by Newton's steps on the components that are free: with the observed
 * second derivatives where they are positive definite, else with the expected ones. A component that a step would take below 0
 * is set to 0; it is freed again when the likelihood rises with it.
 *
 * @param start components to begin with, all above 0
 * @param fixed components that keep their starting value, by index (for profiles)
 * @throws InputError the data do not determine the components, or no convergence
 */
export function maximiseLikelihood<Point extends LikelihoodPoint>(
  likelihood: Likelihood<Point>,
  start: readonly number[],
  fixed: readonly number[] = [],
): LikelihoodMaximum<Point> {
  let theta = [...start];
  let point = likelihood.at(theta);
  let stalled = 0;
  for (let iterations = 1; iterations <= 200; iterations++) {
    const free = theta.map((value, k) => !fixed.includes(k) && !(value === 0 && point.gradient[k]! >= 0));
    const step = newtonStep(point, free);
    const next = improve(likelihood, theta, point, step, free);
    // In units of the standard errors, so that a small component beside a large one settles as well.
    const change = theta.reduce(
      (most, value, k) =>
        Math.max(most, Math.abs(value - next.theta[k]!) * Math.sqrt(point.expected[k]![k]! / 2)),
      0,
    );
    const gained = point.value - next.point.value;
    theta = next.theta;
    point = next.point;
    // Newton's error is the square of the last step; where rounding keeps the steps longer, the value no longer falls.
    if (change < 1e-5 && !(gained > 1e-10)) stalled++;
    if (change <= 1e-7 || stalled >= 5) {
      return {
        components: theta,
        point,
        held: theta.map((v, k) => v === 0 && !fixed.includes(k)),
        iterations,
      };
    }
  }
  throw new InputError('variance components: the likelihood did not settle in 200 steps');
}

/** −H⁻¹·gradient on the free components, 0 elsewhere. */
function newtonStep(point: LikelihoodPoint, free: readonly boolean[]): number[] {
  const indices = free.flatMap((is, k) => (is ? [k] : []));
  // Scaled by the expected diagonal: components of very different size are told apart from those that cannot be.
  const scale = indices.map((i) => 1 / Math.sqrt(point.expected[i]![i]!));
  const scaled = (matrix: readonly (readonly number[])[]) =>
    indices.map((i, a) => indices.map((j, b) => matrix[i]![j]! * scale[a]! * scale[b]!));
  const factor = tryCholesky(scaled(point.observed), 1e-6) ?? tryCholesky(scaled(point.expected), 1e-12);
  if (!factor) throw new InputError('variance components: the design does not tell them apart');
  const right = indices.map((i, a) => -point.gradient[i]! * scale[a]!);
  const step = free.map(() => 0);
  solveFactored(factor, right).forEach((value, a) => {
    step[indices[a]!] = value * scale[a]!;
  });
  return step;
}

/** Longest part of the step, halved as needed, that does not lower the likelihood. */
function improve<Point extends LikelihoodPoint>(
  likelihood: Likelihood<Point>,
  theta: readonly number[],
  point: Point,
  step: readonly number[],
  free: readonly boolean[],
): { theta: number[]; point: Point } {
  const last = theta.length - 1;
  const tolerance = 1e-12 * (1 + Math.abs(point.value));
  for (let factor = 1; factor > 1e-10; factor /= 2) {
    const trial = theta.map((value, k) => (free[k] ? value + factor * step[k]! : value));
    if (!(trial[last]! > 0)) continue;
    for (let k = 0; k < last; k++) trial[k] = Math.max(0, trial[k]!);
    const next = likelihood.at(trial);
    if (next.value <= point.value + tolerance) return { theta: trial, point: next };
  }
  const promised = -step.reduce((total, value, k) => total + value * point.gradient[k]!, 0);
  if (promised > 1e-6) throw new InputError('variance components: the likelihood could not be improved');
  return { theta: [...theta], point };
}
