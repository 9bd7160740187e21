import { dateTime, integer, name, number, optionalNumber } from '../table-form/column.js';
import type { Table } from '../table-form/table.js';

/** One integration of the spectrometer. */
export interface ReadingRecord {
  readonly run: string;
  /** Place in the sequence of the run, from 1; the readings of one solution share it. */
  readonly position: number;
  /** ISO date and time, local, without zone. */
  readonly time: string;
  /** A standard, check solution, digestion or dilution. */
  readonly solution: string;
  readonly analyte: string;
  readonly lineNm: number;
  /** Number of the reading of this solution at this position, from 1. */
  readonly repeat: number;
  /** Counts per second. */
  readonly intensity: number;
  /** Counts per second; null where no internal standard was pumped. */
  readonly internalStandardIntensity: number | null;
}

export const readingTable: Table<ReadingRecord> = {
  name: 'readings',
  rowIs: 'one reading: one integration of the spectrometer',
  key: ['run', 'position', 'analyte', 'lineNm', 'repeat'],
  required: true,
  withoutIt: 'everything: no result without readings',
  columns: {
    run: name('run', 'name of the calibrated sequence'),
    position: integer('position', 'place in the sequence, from 1; readings of one solution share it', {
      atLeast: 1,
    }),
    time: dateTime('time', 'local date and time of the reading'),
    solution: name('solution', 'standard solution, check solution, digestion or dilution'),
    analyte: name('analyte', 'symbol of the element'),
    lineNm: number('line nm', 'wavelength, as the plan states it', { above: 0 }),
    repeat: integer('repeat', 'number of the reading at this position, from 1', { atLeast: 1 }),
    intensity: number('intensity counts/s', 'intensity of the analyte', { atLeast: 0 }),
    internalStandardIntensity: optionalNumber(
      'internal standard intensity counts/s',
      'intensity of the internal standard; empty only where its own element is read without it',
      { above: 0 },
    ),
  },
};
