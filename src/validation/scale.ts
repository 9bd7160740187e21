import { InputError } from '../errors.js';
import type { Criterion } from './finding.js';

/** How a result is brought to the unit of its criterion: multiply by `factor`. */
export interface Scale {
  readonly unit: string;
  readonly factor: number;
  readonly relative: boolean;
}

const percentToMgPerKg = 10_000;

/**
 * Scale from the unit of the results to that of the criterion; `%` and `1` are relative to a reference value.
 * Without a criterion the usual unit is taken.
 *
 * @param resultUnit unit of the results, such as `mg/kg` or `g/100 g`
 * @param reference value that relative figures refer to, in the unit of the results
 * @param usual unit where the plan sets no criterion
 * @throws InputError a criterion in a unit that does not fit, a relative criterion where the reference is not above 0
 * @example
 * scaleOf({ kind: 'at most', limit: 3, unit: '%', reason: '', owner: '' }, 'mg/kg', 50).factor // => 2
 */
export function scaleOf(
  criterion: Criterion | null,
  resultUnit: string,
  reference: number,
  usual: string = '%',
): Scale {
  const unit = criterion?.unit ?? usual;
  if (unit === resultUnit) return { unit, factor: 1, relative: false };
  if (unit === '%' || unit === '1') {
    if (!(reference > 0 && Number.isFinite(reference))) {
      throw new InputError(
        `reference of a relative figure: found ${reference} ${resultUnit}, expected a value above 0`,
      );
    }
    return { unit, factor: (unit === '%' ? 100 : 1) / reference, relative: true };
  }
  if (unit === 'mg/kg' && resultUnit === 'g/100 g') {
    return { unit, factor: percentToMgPerKg, relative: false };
  }
  if (unit === 'g/100 g' && resultUnit === 'mg/kg') {
    return { unit, factor: 1 / percentToMgPerKg, relative: false };
  }
  throw new InputError(`unit of the criterion: found ${unit}, expected %, 1 or ${resultUnit}`);
}
