import { name, number } from '../table-form/column.js';
import type { Table } from '../table-form/table.js';

/** One analyte of one solution of a series of standard additions: equal parts of one sample solution, with growing additions. */
export interface AdditionRecord {
  readonly solution: string;
  readonly base: string;
  readonly analyte: string;
  /** Content that the addition alone brings to the solution as read, in the unit the plan calibrates in. */
  readonly added: number;
  readonly standardUncertainty: number;
}

export const additionTable: Table<AdditionRecord> = {
  name: 'additions',
  rowIs: 'one analyte of one solution of a series of standard additions',
  key: ['solution', 'analyte'],
  required: false,
  withoutIt: 'the matrix effect by slopes of standard additions',
  columns: {
    solution: name('solution', 'name of the solution, as in readings'),
    base: name(
      'base',
      'digestion or dilution whose solution it holds; every solution of a series holds the same part of it',
    ),
    analyte: name('analyte', 'symbol of the element'),
    added: number(
      'added mg/kg',
      'content that the addition alone brings to the solution as read; 0 for the solution without (mg/L where the plan calibrates so)',
      { atLeast: 0 },
    ),
    standardUncertainty: number('standard uncertainty mg/kg', 'of the content added', { atLeast: 0 }),
  },
};
