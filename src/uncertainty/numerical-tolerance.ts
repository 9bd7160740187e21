import { requireInteger, requirePositive } from '../errors.js';
import { decimalsFor } from '../quantities/decimal.js';

/**
 * Numerical tolerance δ of a standard uncertainty: half a unit of its last digit that means something.
 *
 * @param standardUncertainty above 0
 * @param digits significant digits regarded as meaningful, 1 or 2 as a rule
 * @see JCGM 101:2008, 7.9.2
 * @example
 * numericalTolerance(0.0351, 2) // => 0.0005
 */
export function numericalTolerance(standardUncertainty: number, digits: number): number {
  requirePositive(standardUncertainty, 'standard uncertainty');
  requireInteger(digits, 'significant digits', 1, 10);
  return Number(`5e${-decimalsFor(standardUncertainty, digits) - 1}`);
}
