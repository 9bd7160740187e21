import type { InputQuantity } from '../input-quantity.js';

/** What every input quantity is told about itself, beside value and uncertainty. */
export interface InputDescription {
  /** Identifier in the equations: a letter, then letters, digits, underscores. */
  readonly name: string;
  /** The quantity in words. */
  readonly description: string;
  readonly unit: string;
  /** The certificate, table rows or reasoning behind it, in words. */
  readonly source: string;
  /** Step of the measurement procedure the budget groups it under. */
  readonly step: string;
  /** Identifier in the equipment register. */
  readonly equipment?: string;
  /** Whether the observed intermediate precision already holds this quantity's variation; no unless stated. */
  readonly withinPrecision?: boolean;
}

/** The described part of an input quantity. */
export function described(
  about: InputDescription,
): Pick<
  InputQuantity,
  'name' | 'description' | 'unit' | 'source' | 'step' | 'equipment' | 'withinPrecision'
> {
  return {
    name: about.name,
    description: about.description,
    unit: about.unit,
    source: about.source,
    step: about.step,
    ...(about.equipment === undefined ? {} : { equipment: about.equipment }),
    withinPrecision: about.withinPrecision ?? false,
  };
}
