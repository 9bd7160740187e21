import { InputError } from '../../errors.js';
import { ratioOfMeanSquares } from '../analysis-of-variance/one-way.js';
import {
  add,
  type DoubleDouble,
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
  const { pure, lack } = splitResiduals(fit, [...levels.values()]);
  const notes: string[] = [];
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

/** Sums of squares of y about the level means (pure error) and of the level means about the curve (lack of fit). */
function splitResiduals(
  fit: FittedCurve,
  levels: readonly (readonly number[])[],
): { pure: DoubleDouble; lack: DoubleDouble } {
  let pure = zero;
  let lack = zero;
  for (const members of levels) {
    const pick = (list: readonly number[]) => members.map((i) => wide(list[i]!));
    const w = pick(fit.weights);
    const weight = w.reduce(add, zero);
    const y = pick(fit.y);
    const mean = divide(dot(w, y), weight);
    const deviations = y.map((value) => square(subtract(value, mean)));
    pure = add(pure, dot(w, deviations));
    lack = add(lack, multiply(weight, square(divide(dot(w, pick(fit.residuals)), weight))));
  }
  const scale = fit.y.reduce((sum, value, i) => sum + fit.weights[i]! * value * value, 0);
  return { pure: withoutNoise(pure, scale), lack: withoutNoise(lack, scale) };
}
