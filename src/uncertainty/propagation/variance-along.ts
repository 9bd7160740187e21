import type { InputQuantity } from '../input-quantity.js';
import type { IndexedCorrelation } from '../model/correlation-matrix.js';

/** First-order covariance of two quantities with the given sensitivity coefficients: J₁·V·J₂ᵀ. */
export function varianceAlong(
  first: ArrayLike<number>,
  second: ArrayLike<number>,
  inputs: readonly InputQuantity[],
  correlations: readonly IndexedCorrelation[],
): number {
  let sum = 0;
  for (let i = 0; i < inputs.length; i++) {
    const u = inputs[i]!.standardUncertainty;
    sum += first[i]! * u * (second[i]! * u);
  }
  for (const { first: i, second: j, coefficient } of correlations) {
    const uu = inputs[i]!.standardUncertainty * inputs[j]!.standardUncertainty;
    sum += coefficient * uu * (first[i]! * second[j]! + first[j]! * second[i]!);
  }
  return sum;
}
