import { type LossStep, lossBounds, lossSteps } from '../../chain/mass-on-basis.js';
import { choice, name, number } from '../table-form/column.js';
import type { Table } from '../table-form/table.js';

/** Moisture or loss on ignition of one sample, in g per 100 g before the loss: of the sample as received, or of the dry sample. */
export interface MoistureRecord {
  readonly sample: string;
  readonly lossGPer100G: number;
  readonly basis: LossStep;
  readonly standardUncertaintyGPer100G: number;
}

export const moistureTable: Table<MoistureRecord> = {
  name: 'moisture',
  rowIs: 'one sample',
  key: ['sample', 'basis'],
  required: false,
  withoutIt: 'results on another basis than the portion was weighed on',
  columns: {
    sample: name('sample', 'sample or material, as in digestions'),
    lossGPer100G: number('loss g/100 g', 'loss of mass; a gain, as by oxidation on ignition, is negative', {
      above: 100 * lossBounds.above,
      below: 100 * lossBounds.below,
    }),
    basis: choice(
      'basis',
      'drying, in g/100 g of the sample as received, or loss on ignition, in g/100 g of the dry sample',
      lossSteps,
    ),
    standardUncertaintyGPer100G: number('standard uncertainty g/100 g', 'of the loss', { atLeast: 0 }),
  },
};
