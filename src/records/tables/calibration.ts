import { name, number, optionalNumber, optionalText } from '../table-form/column.js';
import type { RowProblem, Table } from '../table-form/table.js';

/** One standard solution × analyte of one run. */
export interface CalibrationRecord {
  readonly run: string;
  readonly solution: string;
  readonly analyte: string;
  /** Exactly one of the two contents is given. */
  readonly massFractionMgPerKg: number | null;
  readonly concentrationMgPerL: number | null;
  /** Of this solution's preparation alone (the stock's uncertainty is in `standards`), in the unit of the content. */
  readonly standardUncertainty: number;
  /** Name in `standards`. */
  readonly preparedFrom: string;
}

export const calibrationTable: Table<CalibrationRecord> = {
  name: 'calibration',
  rowIs: 'one standard solution × analyte of one run',
  key: ['run', 'solution', 'analyte'],
  required: true,
  withoutIt: 'everything: no result without calibration',
  columns: {
    run: name('run', 'name of the run, as in readings'),
    solution: name('solution', 'name of the standard solution, as in readings'),
    analyte: name('analyte', 'symbol of the element'),
    massFractionMgPerKg: optionalNumber('mass fraction mg/kg', 'content by mass; or', { atLeast: 0 }),
    concentrationMgPerL: optionalNumber('concentration mg/L', 'content by volume', { atLeast: 0 }),
    standardUncertainty: number(
      'standard uncertainty',
      'of the preparation of this solution alone, in the unit of the content',
      { atLeast: 0 },
    ),
    preparedFrom: optionalText('prepared from', 'name in standards; may be empty for a content of 0'),
  },
  checkRow: checkContent,
};

/** Exactly one content; a solution that holds something was prepared from something. */
function checkContent(record: CalibrationRecord): readonly RowProblem<CalibrationRecord>[] {
  const { massFractionMgPerKg, concentrationMgPerL, preparedFrom } = record;
  if ((massFractionMgPerKg === null) === (concentrationMgPerL === null)) {
    const which = massFractionMgPerKg === null ? 'neither' : 'both';
    const found = `${which} of mass fraction mg/kg and concentration mg/L`;
    return [{ code: 'content', field: 'massFractionMgPerKg', found, expected: 'exactly one of the two' }];
  }
  if (preparedFrom === '' && (massFractionMgPerKg ?? concentrationMgPerL) !== 0) {
    const expected = 'a name in standards, as the content is not 0';
    return [{ code: 'empty', field: 'preparedFrom', found: 'an empty cell', expected }];
  }
  return [];
}
