import { choice, name, number, text } from '../table-form/column.js';
import type { Table } from '../table-form/table.js';

/** One result of another method on a sample of the study. */
export interface ComparisonRecord {
  readonly sample: string;
  readonly analyte: string;
  readonly method: string;
  readonly value: number;
  readonly unit: 'mg/kg' | 'g/100 g';
  readonly standardUncertainty: number;
}

export const comparisonTable: Table<ComparisonRecord> = {
  name: 'comparison',
  rowIs: 'one result of another method on a sample of the study',
  key: ['sample', 'analyte', 'method'],
  required: false,
  withoutIt: 'the comparison with another method',
  columns: {
    sample: name('sample', 'sample or material, as in digestions'),
    analyte: name('analyte', 'symbol of the element'),
    method: text('method', 'the other method and who used it'),
    value: number('value', 'its result, in the form and on the basis the plan reports', { above: 0 }),
    unit: choice('unit', 'unit of the result', ['mg/kg', 'g/100 g']),
    standardUncertainty: number('standard uncertainty', 'of the result, in its unit', { above: 0 }),
  },
};
