import { name, number } from '../table-form/column.js';
import type { Table } from '../table-form/table.js';

/** One spectral interference coefficient: apparent mg/kg of the analyte per mg/kg of the interferent. */
export interface InterferenceRecord {
  readonly analyte: string;
  readonly lineNm: number;
  readonly interferent: string;
  readonly apparentPerUnit: number;
  readonly standardUncertainty: number;
}

export const interferenceTable: Table<InterferenceRecord> = {
  name: 'interference',
  rowIs: 'one interferent × line',
  key: ['analyte', 'lineNm', 'interferent'],
  required: false,
  withoutIt: 'correction of spectral interferences',
  columns: {
    analyte: name('analyte', 'symbol of the element that is disturbed'),
    lineNm: number('line nm', 'wavelength, as the plan states it', { above: 0 }),
    interferent: name('interferent', 'symbol of the element that disturbs'),
    apparentPerUnit: number(
      'apparent mg/kg per mg/kg',
      'apparent mass fraction of the analyte that 1 mg/kg of the interferent makes',
    ),
    standardUncertainty: number('standard uncertainty', 'of the coefficient', { atLeast: 0 }),
  },
};
