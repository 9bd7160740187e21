import { choice, name, number, text } from '../table-form/column.js';
import type { Table } from '../table-form/table.js';

/** One addition of a known amount. */
export interface SpikeRecord {
  readonly digestion: string;
  /** Digestion of the same sample without the addition; several partners are separated by a vertical bar. */
  readonly unspikedPartner: string;
  readonly stage: 'before fusion' | 'after dissolution';
  readonly analyte: string;
  readonly addedMg: number;
  readonly standardUncertaintyMg: number;
}

export const spikeTable: Table<SpikeRecord> = {
  name: 'spikes',
  rowIs: 'one addition of a known amount',
  key: ['digestion', 'analyte'],
  required: false,
  withoutIt: 'recovery of additions',
  columns: {
    digestion: name('digestion', 'digestion that holds the addition'),
    unspikedPartner: text(
      'unspiked partner',
      'digestion of the same sample without the addition; several are joined by vertical bars',
    ),
    stage: choice('stage', 'when it was added; an addition after dissolution does not test fusion losses', [
      'before fusion',
      'after dissolution',
    ]),
    analyte: name('analyte', 'symbol of the element'),
    addedMg: number('added mg', 'amount added', { above: 0 }),
    standardUncertaintyMg: number('standard uncertainty mg', 'of the amount added', { atLeast: 0 }),
  },
};
