import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { encodeCsv } from '../../src/records/csv/encode-csv.js';
import { decodeCsvTable } from '../../src/records/csv/read-csv-table.js';
import { IssueList } from '../../src/records/issue-list.js';
import { type RecordOf, studyTables, type TableName, tableNames } from '../../src/records/study-tables.js';
import { encodeTable } from '../../src/records/table-form/encode-table.js';
import { arbitraryRecords } from './arbitrary-study.js';

function decodeEncoded<N extends TableName>(name: N, records: readonly RecordOf<N>[]) {
  const issues = new IssueList();
  const text = encodeCsv(encodeTable(studyTables[name], records));
  const decoded = decodeCsvTable(studyTables[name], text, `${name}.csv`, null, issues);
  return { issues: issues.all(), decoded, text };
}

function holdRoundTrip<N extends TableName>(name: N): void {
  const arbitrary: fc.Arbitrary<readonly RecordOf<N>[]> = arbitraryRecords[name];
  fc.assert(
    fc.property(arbitrary, (records) => {
      if (records.length === 0) return;
      const { issues, decoded, text } = decodeEncoded(name, records);
      expect(issues).toEqual([]);
      expect(decoded.records).toEqual(records);
      expect(decodeEncoded(name, decoded.records).text).toBe(text);
    }),
    { numRuns: 150 },
  );
}

describe('CSV round trip of random records', () => {
  it.each(tableNames)('decode(encode(%s)) gives the same records, and the same bytes again', holdRoundTrip);
});
