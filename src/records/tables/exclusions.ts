import { date, text } from '../table-form/column.js';
import type { Table } from '../table-form/table.js';

/** One row left out of the calculations, with who, when and the technical cause. */
export interface ExclusionRecord {
  readonly table: string;
  /** Key of the row in its table, such as a digestion; a vertical bar joins the parts of a key of several columns (`D-013|Ca`). */
  readonly rowKey: string;
  readonly who: string;
  /** ISO date. */
  readonly when: string;
  readonly technicalCause: string;
}

export const exclusionTable: Table<ExclusionRecord> = {
  name: 'exclusions',
  rowIs: 'one excluded row',
  key: ['table', 'rowKey'],
  required: false,
  withoutIt: null,
  columns: {
    table: text('table', 'table of the row, such as digestions'),
    rowKey: text(
      'row key',
      'key of the row, parts joined by vertical bars; D-013|Ca leaves out one analyte of a digestion',
    ),
    who: text('who', 'who decided'),
    when: date('when', 'day of the decision'),
    technicalCause: text('technical cause', 'what went wrong; an odd result alone is no cause'),
  },
};
