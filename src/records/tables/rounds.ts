import { name, number, text } from '../table-form/column.js';
import type { Table } from '../table-form/table.js';

/** One proficiency-test result. */
export interface RoundRecord {
  readonly round: string;
  readonly material: string;
  readonly analyte: string;
  readonly value: number;
  readonly unit: string;
  readonly expandedUncertainty: number;
  readonly assignedValue: number;
  readonly assignedStandardUncertainty: number;
  readonly sigmaPt: number;
}

export const roundTable: Table<RoundRecord> = {
  name: 'rounds',
  rowIs: 'one proficiency-test result',
  key: ['round', 'material', 'analyte'],
  required: false,
  withoutIt: 'performance in proficiency tests',
  columns: {
    round: name('round', 'name of the round'),
    material: name('material', 'material of the round'),
    analyte: name('analyte', 'symbol of the element'),
    value: number('value', 'own result, in the form the plan reports (oxide or element)'),
    unit: text('unit', 'unit of all values of the row'),
    expandedUncertainty: number('U', 'expanded uncertainty of the own result', { above: 0 }),
    assignedValue: number('assigned value', 'value the provider assigned'),
    assignedStandardUncertainty: number('assigned standard uncertainty', 'of the assigned value', {
      atLeast: 0,
    }),
    sigmaPt: number('sigma_pt', 'standard deviation for proficiency assessment', { above: 0 }),
  },
};
