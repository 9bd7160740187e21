import type { InputQuantity } from '../uncertainty/input-quantity.js';
import { newWithDigestion, type StatedFactor, statedInput, statedName } from './model-fragment.js';

/** Name of the factor in equations. */
export function evaporationName(evaporation: StatedFactor): string {
  return statedName('f_evap', evaporation);
}

/** Step "dissolution": mass fraction in the solution at the reading relative to that at weigh-back. */
export function evaporationInputs(evaporation: StatedFactor | null): InputQuantity[] {
  if (evaporation === null) return [];
  const description = 'evaporation between weigh-back and reading';
  return [
    newWithDigestion(statedInput(evaporationName(evaporation), description, '1', evaporation, 'dissolution')),
  ];
}
