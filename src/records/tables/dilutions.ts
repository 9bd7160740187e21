import { name, number, optionalNumber, optionalText, text } from '../table-form/column.js';
import type { RowProblem, Table } from '../table-form/table.js';
import type { DigestionRecord } from './digestions.js';

/** One further dilution of a digestion's solution, by mass (g) or to a volume (mL). */
export interface DilutionRecord {
  readonly dilution: string;
  readonly digestion: string;
  readonly aliquotG: number;
  /** Exactly one of the two final amounts is given. */
  readonly finalG: number | null;
  readonly finalML: number | null;
  readonly diluent: string;
  readonly internalStandardG: number | null;
  /** Empty where it is the vessel balance of the digestion: `dilutionBalance` reads it. */
  readonly balance: string;
}

export const dilutionTable: Table<DilutionRecord> = {
  name: 'dilutions',
  rowIs: 'one further dilution',
  key: ['dilution'],
  required: false,
  withoutIt: 'analytes that the plan measures in a dilution',
  columns: {
    dilution: name('dilution', 'name of the dilution, used in readings'),
    digestion: text('digestion', 'digestion whose solution was diluted'),
    aliquotG: number('aliquot g', 'solution taken', { above: 0 }),
    finalG: optionalNumber('final g', 'mass made up to; or', { above: 0 }),
    finalML: optionalNumber('final mL', 'volume made up to', { above: 0 }),
    diluent: text('diluent', 'what it was diluted with'),
    internalStandardG: optionalNumber('internal standard g', 'internal-standard solution added', {
      above: 0,
    }),
    balance: {
      ...optionalText(
        'balance',
        'balance that weighed the masses of this row: its id in equipment.json; left empty, or without the column: the vessel balance of the digestion',
      ),
      isLeftOutUnused: true,
    },
  },
  checkRow: checkFinalAmount,
};

/**
 * Id of the balance that a dilution was weighed on: its own, else the one that weighed the vessel of its digestion.
 *
 * @example
 * dilutionBalance({ balance: '' }, { vesselBalance: 'BAL-2' }) // => "BAL-2"
 */
export function dilutionBalance(
  { balance }: Pick<DilutionRecord, 'balance'>,
  { vesselBalance }: Pick<DigestionRecord, 'vesselBalance'>,
): string {
  return balance === '' ? vesselBalance : balance;
}

/** Exactly one final amount, and more of it than was taken. */
function checkFinalAmount(record: DilutionRecord): readonly RowProblem<DilutionRecord>[] {
  const { aliquotG, finalG, finalML } = record;
  if ((finalG === null) === (finalML === null)) {
    const found = finalG === null ? 'neither final g nor final mL' : 'both final g and final mL';
    return [{ code: 'final amount', field: 'finalG', found, expected: 'exactly one of the two' }];
  }
  if (finalG !== null && finalG < aliquotG) {
    const expected = `at least the aliquot, ${aliquotG} g`;
    return [{ code: 'masses', field: 'finalG', found: String(finalG), expected }];
  }
  return [];
}
