import { requireInteger, requirePositive } from '../../errors.js';
import type { InputQuantity } from '../input-quantity.js';
import { described, type InputDescription } from './input-description.js';

/** Objects counted, and what one of them stands for. */
export interface CountedValue extends InputDescription {
  readonly counts: number;
  /** Quantity per object, in the unit of the quantity, such as 1/(counting time); 1 unless stated. */
  readonly perCount?: number;
}

/**
 * Input quantity from a count of objects that occur at random: a gamma distribution of mean (q + 1)·f and standard
 * uncertainty √(q + 1)·f.
 *
 * @throws InputError counts that are no whole number of at least 0, a factor not above 0
 * @see JCGM 101:2008, 6.4.11
 * @example
 * const about = { name: 'n', description: 'events', unit: '1', source: 'row 2', step: 'counting' };
 * fromCounts({ ...about, counts: 99 }).standardUncertainty // => 10
 */
export function fromCounts(counted: CountedValue): InputQuantity {
  const { name, counts, perCount = 1 } = counted;
  requireInteger(counts, `counts of "${name}"`, 0);
  requirePositive(perCount, `quantity per count of "${name}"`);
  return {
    ...described(counted),
    estimate: (counts + 1) * perCount,
    standardUncertainty: Math.sqrt(counts + 1) * perCount,
    degreesOfFreedom: Infinity,
    distribution: { kind: 'gamma from counts', counts },
    evaluation: 'B',
    sourceKind: 'records',
  };
}
