import { choice, date, name, number, optionalNumber, optionalText, text } from '../table-form/column.js';
import type { RowProblem, Table } from '../table-form/table.js';

/** One stock or intermediate standard. */
export interface StandardRecord {
  readonly name: string;
  readonly analyte: string;
  readonly value: number;
  readonly unit: 'mg/kg' | 'mg/L';
  readonly expandedUncertainty: number;
  readonly coverageFactor: number;
  readonly certificate: string;
  /** ISO date. */
  readonly expiry: string;
  /** Name of the stock an intermediate was made from, empty for a stock. */
  readonly preparedFrom: string;
  readonly aliquotG: number | null;
  readonly finalG: number | null;
}

export const standardTable: Table<StandardRecord> = {
  name: 'standards',
  rowIs: 'one stock or intermediate standard × analyte',
  key: ['name', 'analyte'],
  required: false,
  withoutIt: 'the uncertainty and the traceability of the standards',
  columns: {
    name: name('name', 'name of the standard'),
    analyte: name('analyte', 'symbol of the element'),
    value: number('value', 'certified or prepared content', { above: 0 }),
    unit: choice('unit', 'unit of value and U', ['mg/kg', 'mg/L']),
    expandedUncertainty: number('U', 'expanded uncertainty', { atLeast: 0 }),
    coverageFactor: number('k', 'coverage factor of U', { above: 0 }),
    certificate: text('certificate', 'number of the certificate, or of the record of preparation'),
    expiry: date('expiry', 'last day of use'),
    preparedFrom: optionalText('prepared from', 'stock of an intermediate; empty for a stock'),
    aliquotG: optionalNumber('aliquot g', 'mass of the stock taken', { above: 0 }),
    finalG: optionalNumber('final g', 'mass made up to', { above: 0 }),
  },
  checkRow: checkPreparation,
};

/** An intermediate states both masses of its dilution, a stock none. */
function checkPreparation(record: StandardRecord): readonly RowProblem<StandardRecord>[] {
  const { preparedFrom, aliquotG, finalG } = record;
  const problems: RowProblem<StandardRecord>[] = [];
  for (const field of ['aliquotG', 'finalG'] as const) {
    const isGiven = record[field] !== null;
    if (isGiven === (preparedFrom !== '')) continue;
    const expected = isGiven
      ? 'nothing, as the row is a stock'
      : `a mass, as it is prepared from ${preparedFrom}`;
    problems.push({ code: 'preparation', field, found: String(record[field] ?? 'an empty cell'), expected });
  }
  if (aliquotG !== null && finalG !== null && finalG < aliquotG) {
    const expected = `at least the aliquot, ${aliquotG} g`;
    problems.push({ code: 'masses', field: 'finalG', found: String(finalG), expected });
  }
  return problems;
}
