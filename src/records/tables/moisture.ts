import { choice, name, number } from '../table-form/column.js';
import type { Table } from '../table-form/table.js';

/** Moisture (or loss on ignition) of one sample, in g/100 g of the basis named. */
export interface MoistureRecord {
  readonly sample: string;
  readonly lossGPer100G: number;
  readonly basis: 'as received to dry' | 'dry to ignited';
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
    lossGPer100G: number('loss g/100 g', 'loss of mass; a small gain on ignition is negative', {
      above: -100,
      atMost: 100,
    }),
    basis: choice('basis', 'drying, or loss on ignition', ['as received to dry', 'dry to ignited']),
    standardUncertaintyGPer100G: number('standard uncertainty g/100 g', 'of the loss', { atLeast: 0 }),
  },
};
