import { integer, number, type OpenColumns, refused } from '../table-form/column.js';
import type { Table } from '../table-form/table.js';

/** One run of a ruggedness experiment; `levels` maps each factor to −1 or 1. */
export interface FactorRecord {
  readonly experiment: number;
  readonly levels: Readonly<Record<string, -1 | 1>>;
  readonly response: number;
}

const levels: OpenColumns<FactorRecord['levels']> = {
  kind: 'open',
  expected: 'the level of each factor, -1 or 1',
  about: 'one column for each factor, headed by its name: -1 or 1',
  decode: (cells) => {
    const entries: [string, -1 | 1][] = [];
    for (const [factor, level] of cells) {
      if (level !== -1 && level !== 1) return refused;
      entries.push([factor, level]);
    }
    return Object.fromEntries(entries);
  },
  encode: (value) => new Map(Object.entries(value)),
};

export const factorTable: Table<FactorRecord> = {
  name: 'factors',
  rowIs: 'one run of the ruggedness experiment',
  key: ['experiment'],
  required: false,
  withoutIt: 'ruggedness',
  columns: {
    experiment: integer('experiment', 'number of the run', { atLeast: 1 }),
    levels,
    response: number('response', 'result of the run, in one unit for all'),
  },
};
