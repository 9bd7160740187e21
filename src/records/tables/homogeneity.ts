import { integer, name, number, text } from '../table-form/column.js';
import type { Table } from '../table-form/table.js';

/** One result of one portion of one unit of a sample, all measured under repeatability. */
export interface HomogeneityRecord {
  readonly sample: string;
  /** Bottle, bag or increment that the portion was taken from. */
  readonly container: string;
  /** Number of the portion within its unit, from 1. */
  readonly portion: number;
  readonly analyte: string;
  readonly portionG: number;
  readonly value: number;
  readonly unit: string;
}

export const homogeneityTable: Table<HomogeneityRecord> = {
  name: 'homogeneity',
  rowIs:
    'one result of one portion of one unit (bottle, bag, increment) of a sample, measured in random order on one day',
  key: ['sample', 'container', 'portion', 'analyte'],
  required: false,
  withoutIt: 'homogeneity and the smallest representative portion',
  columns: {
    sample: name('sample', 'sample or material'),
    container: name('container', 'bottle, bag or increment that the portion was taken from'),
    portion: integer('portion', 'number of the portion within its container, from 1; two at least', {
      atLeast: 1,
    }),
    analyte: name('analyte', 'symbol of the element'),
    portionG: number('portion g', 'mass of the portion', { above: 0 }),
    value: number('value', 'result, in the form the plan reports (oxide or element)'),
    unit: text('unit', 'unit of the result'),
  },
};
