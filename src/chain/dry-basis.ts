import { InputError } from '../errors.js';
import type { InputQuantity } from '../uncertainty/input-quantity.js';
import { recordedValue } from './model-fragment.js';

/** Loss of mass from the portion as weighed to the basis reported, as a fraction, with its standard uncertainty. */
export interface LossOfMass {
  readonly fraction: number;
  readonly standardUncertainty: number;
  readonly source: string;
}

/**
 * Mass of a portion on the basis reported, g.
 *
 * @param loss null where results are reported on the sample as weighed
 * @throws InputError a loss outside 0 to below 1
 * @see common practice, no source
 */
export function dryMass(portionG: number, loss: LossOfMass | null): number {
  const fraction = loss?.fraction ?? 0;
  if (!(fraction >= 0 && fraction < 1))
    throw new InputError(`loss as a fraction: found ${fraction}, expected at least 0 and below 1`);
  return portionG * (1 - fraction);
}

/** Step "sample": the loss, named `loss`, which all analytes of a sample share. */
export function lossInputs(loss: LossOfMass | null): InputQuantity[] {
  if (loss === null) return [];
  const { fraction, standardUncertainty, source } = loss;
  return [
    {
      ...recordedValue('loss', 'loss of mass to the basis reported', '1', fraction, 'sample', source),
      standardUncertainty,
    },
  ];
}
