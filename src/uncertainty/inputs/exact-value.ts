import { requireFinite } from '../../errors.js';
import type { InputQuantity } from '../input-quantity.js';
import { described, type InputDescription } from './input-description.js';

/** A value without uncertainty. */
export interface ExactValue extends InputDescription {
  readonly value: number;
}

/**
 * Input quantity without uncertainty: exact by definition, such as a conversion factor or a chosen condition.
 *
 * @throws InputError a value that is not finite
 * @example
 * const about = { name: 'n', description: 'atoms', unit: '1', source: 'formula', step: 'oxide' };
 * exactValue({ ...about, value: 2 }).standardUncertainty // => 0
 */
export function exactValue(exact: ExactValue): InputQuantity {
  requireFinite([exact.value], `value of "${exact.name}"`);
  return {
    ...described(exact),
    estimate: exact.value,
    standardUncertainty: 0,
    degreesOfFreedom: Infinity,
    distribution: { kind: 'normal' },
    evaluation: 'B',
    sourceKind: 'definition',
  };
}
