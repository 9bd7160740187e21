import type { InputQuantity } from '../uncertainty/input-quantity.js';
import { type StatedFactor, statedInput, statedName } from './model-fragment.js';

/** Name of the fraction in equations. */
export function retainedName(retained: StatedFactor): string {
  return statedName('f_ret', retained);
}

/**
 * Step "fusion": the fraction of the analyte that reaches the solution, 1 where nothing evaporates from the melt, stays in the
 * crucible or remains undissolved. It is stated with its reason: no weighing of the line shows it, since the melt loses water, carbon
 * dioxide and flux too.
 */
export function retainedInputs(retained: StatedFactor | null): InputQuantity[] {
  if (retained === null) return [];
  const description = 'fraction of the analyte that reaches the solution';
  return [statedInput(retainedName(retained), description, '1', retained, 'fusion')];
}
