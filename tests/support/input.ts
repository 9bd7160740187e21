import type { InputQuantity } from '../../src/uncertainty/input-quantity.js';

/** An input quantity for tests: normal, from judgement, with the stated parts. */
export function input(
  name: string,
  estimate: number,
  standardUncertainty: number,
  rest: Partial<InputQuantity> = {},
): InputQuantity {
  return {
    name,
    description: name,
    unit: '1',
    estimate,
    standardUncertainty,
    degreesOfFreedom: Infinity,
    distribution: { kind: 'normal' },
    evaluation: 'B',
    sourceKind: 'judgement',
    source: 'test',
    step: 'test',
    withinPrecision: false,
    ...rest,
  };
}
