import { requireFinite, requireInteger, requirePositive } from '../../errors.js';
import { mean } from '../../statistics/descriptive/mean.js';
import { standardDeviation } from '../../statistics/descriptive/standard-deviation.js';
import type { InputQuantity } from '../input-quantity.js';
import { described, type InputDescription } from './input-description.js';

/** Repeated independent observations of one quantity under the same conditions. */
export interface Observations extends InputDescription {
  readonly values: readonly number[];
  /** A standard deviation from earlier or more records, which then stands in place of that of the values. */
  readonly pooled?: { readonly standardDeviation: number; readonly degreesOfFreedom: number };
}

/**
 * Input quantity from observations (type A): their mean, s/√n, and n − 1 degrees of freedom, or those of a pooled
 * standard deviation.
 *
 * @throws InputError fewer than two values (one with a pooled standard deviation), a value that is not finite
 * @see JCGM 100:2008, 4.2; pooled: 4.2.4
 * @example
 * const about = { name: 'r', description: 'reading', unit: 'g', source: 'rows 2 to 4', step: 'weighing' };
 * fromRecords({ ...about, values: [1, 2, 3] }).standardUncertainty // => 0.5773502692
 */
export function fromRecords(observations: Observations): InputQuantity {
  const { name, values, pooled } = observations;
  requireFinite(values, `observations of "${name}"`, pooled === undefined ? 2 : 1);
  if (pooled !== undefined) {
    requirePositive(pooled.standardDeviation, `pooled standard deviation of "${name}"`);
    if (pooled.degreesOfFreedom !== Infinity) {
      requireInteger(pooled.degreesOfFreedom, `degrees of freedom of "${name}"`, 1);
    }
  }
  const s = pooled?.standardDeviation ?? standardDeviation(values);
  return {
    ...described(observations),
    estimate: mean(values),
    standardUncertainty: s / Math.sqrt(values.length),
    degreesOfFreedom: pooled?.degreesOfFreedom ?? values.length - 1,
    distribution: { kind: 't' },
    evaluation: 'A',
    sourceKind: 'records',
  };
}
