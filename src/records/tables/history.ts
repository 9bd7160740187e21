import { date, list, name, number, text } from '../table-form/column.js';
import type { Table } from '../table-form/table.js';

/** One control result. */
export interface HistoryRecord {
  /** ISO date. */
  readonly date: string;
  readonly run: string;
  readonly material: string;
  readonly analyte: string;
  readonly value: number;
  readonly unit: string;
  /** Identifiers of the equipment in use, joined by vertical bars. */
  readonly equipment: readonly string[];
}

export const historyTable: Table<HistoryRecord> = {
  name: 'history',
  rowIs: 'one control result',
  key: ['date', 'run', 'material', 'analyte'],
  required: false,
  withoutIt: 'quality over time, and the comparison before and after an equipment change',
  columns: {
    date: date('date', 'day of the result'),
    run: name('run', 'name of the run'),
    material: name('material', 'control material'),
    analyte: name('analyte', 'symbol of the element'),
    value: number('value', 'result, in the form the plan reports (oxide or element)'),
    unit: text('unit', 'unit of the result'),
    equipment: list('equipment in use', 'ids in equipment.json, joined by vertical bars'),
  },
};
