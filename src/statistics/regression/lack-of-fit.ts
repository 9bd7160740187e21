import { InputError } from '../../errors.js';
import { ratioOfMeanSquares } from '../analysis-of-variance/one-way.js';
import {
  add,
  divide,
  dot,
  multiply,
  narrow,
  square,
  subtract,
  wide,
  withoutNoise,
  zero,
} from '../arithmetic/double-double.js';
import { fSurvival } from '../distributions/f.js';
import type { FittedCurve } from './fitted-curve.js';

/** Test of a curve against the spread of replicates at equal x. */
export interface LackOfFit {
  readonly f: number;
  readonly pValue: number;
  readonly sumOfSquaresLackOfFit: number;
  readonly sumOfSquaresPureError: number;
  readonly degreesOfFreedomLackOfFit: number;
  readonly degreesOfFreedomPureError: number;
  /** Pooled standard deviation of the replicates (of weight 1). */
  readonly pureErrorStandardDeviation: number;
  readonly method: string;
  readonly notes: readonly string[];
}

/**
 * Lack-of-fit test: does the curve miss the level means by more than replicates scatter?
 *
 * Replicates must be independently prepared; repeated readings of one solution make the test too severe.
 *
 * @param fit fitted curve with replicates at some x and more levels than parameters
 * @throws InputError no replicates, or no more levels than parameters
 * @see Draper and Smith, Applied Regression Analysis, 3rd ed. 1998, 2.1; ISO 11095:1996
 * @example
 * const points = { x: [0, 0, 1, 1, 2, 2], y: [1, 3, 4, 6, 5, 7], weights: [1, 1, 1, 1, 1, 1] };
 * const fit = { ...points, residuals: [-1.333, 0.667, -0.333, 1.667, -1.333, 0.667], n: 6, parameters: 2 };
 * lackOfFit(fit).sumOfSquaresPureError // => 6
 */
export function lackOfFit(fit: FittedCurve): LackOfFit {
  const levels = new Map<number, number[]>();
  fit.x.forEach((x, i) => {
    levels.set(x, [...(levels.get(x) ?? []), i]);
  });
  const nuPure = fit.n - levels.size;
  const nuLack = levels.size - fit.parameters;
  if (nuPure < 1) throw new InputError('x: found no replicated level, expected at least one');
  if (nuLack < 1) {
    throw new InputError(
      `x: found ${levels.size} levels, expected more than the ${fit.parameters} parameters`,
    );
  }
  let pure = zero;
  let lack = zero;
  for (const members of levels.values()) {
    const w = members.map((i) => wide(fit.weights[i]!));
    const weight = w.reduce(add, zero);
    const mean = divide(
      dot(
        w,
        members.map((i) => wide(fit.y[i]!)),
      ),
      weight,
    );
    const deviations = members.map((i) => square(subtract(wide(fit.y[i]!), mean)));
    pure = add(pure, dot(w, deviations));
    const residual = divide(
      dot(
        w,
        members.map((i) => wide(fit.residuals[i]!)),
      ),
      weight,
    );
    lack = add(lack, multiply(weight, square(residual)));
  }
  const notes: string[] = [];
  const scale = fit.y.reduce((sum, value, i) => sum + fit.weights[i]! * value * value, 0);
  pure = withoutNoise(pure, scale);
  lack = withoutNoise(lack, scale);
  const pureMean = divide(pure, wide(nuPure));
  const f = ratioOfMeanSquares(divide(lack, wide(nuLack)), pureMean, notes);
  return {
    f,
    pValue: fSurvival(f, nuLack, nuPure),
    sumOfSquaresLackOfFit: narrow(lack),
    sumOfSquaresPureError: narrow(pure),
    degreesOfFreedomLackOfFit: nuLack,
    degreesOfFreedomPureError: nuPure,
    pureErrorStandardDeviation: Math.sqrt(narrow(pureMean)),
    method: 'lack of fit against pure error',
    notes,
  };
}
