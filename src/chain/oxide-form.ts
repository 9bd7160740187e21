import type { InputQuantity } from '../uncertainty/input-quantity.js';
import { recordedValue } from './model-fragment.js';

/** Mass of oxide per mass of element, by standard atomic weights. */
export interface OxideForm {
  readonly formula: string;
  readonly factor: number;
  readonly standardUncertainty: number;
}

/** Name of the factor in equations. */
export function oxideName(analyte: string): string {
  return `f_ox_${analyte}`;
}

/** Step "oxide form": the factor of an analyte reported as its oxide; see `quantities/oxide.ts` for its value. */
export function oxideInputs(analyte: string, oxide: OxideForm | null): InputQuantity[] {
  if (oxide === null) return [];
  const description = `mass of ${oxide.formula} per mass of ${analyte}`;
  return [
    {
      ...recordedValue(
        oxideName(analyte),
        description,
        '1',
        oxide.factor,
        'oxide form',
        'CIAAW standard atomic weights, middle of an interval where one is given',
      ),
      standardUncertainty: oxide.standardUncertainty,
      sourceKind: 'definition',
    },
  ];
}
