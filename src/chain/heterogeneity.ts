import type { InputQuantity } from '../uncertainty/input-quantity.js';
import { newWithDigestion, type StatedFactor, statedInput, statedName } from './model-fragment.js';

/** Name of the factor in equations. */
export function heterogeneityName(heterogeneity: StatedFactor): string {
  return statedName('f_het', heterogeneity);
}

/** Step "sample": content of the portion relative to that of the sample. */
export function heterogeneityInputs(heterogeneity: StatedFactor | null): InputQuantity[] {
  if (heterogeneity === null) return [];
  const name = heterogeneityName(heterogeneity);
  return [newWithDigestion(statedInput(name, 'portion against sample', '1', heterogeneity, 'sample'))];
}
