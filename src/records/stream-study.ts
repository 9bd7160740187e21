import { join } from 'node:path';
import { RecordsError } from '../errors.js';
import { checkAcrossTables } from './checks/check-across-tables.js';
import { ReadingsCheck } from './checks/readings-check.js';
import { readRowGroups } from './csv/read-row-groups.js';
import type { TypedRows } from './csv/typed-rows.js';
import { decodeStudy } from './decode-study.js';
import type { DecodedStudy } from './decoded-study.js';
import { IssueList } from './issue-list.js';
import { recordsOf } from './read-study.js';
import { sizeLimits } from './size-limits.js';
import { fits } from './study-folder.js';
import type { StudyRecords } from './study-records.js';
import { type ReadingRecord, readingTable } from './tables/readings.js';

/** A study whose readings are too many to be held at once. */
export interface StudyStream {
  /** All tables but the readings, which come by `runs`. */
  readonly records: StudyRecords;
  /**
   * Readings of one run after the other, each good until the next is asked for.
   * @throws RecordsError with the problems of a run, before it is handed over; with those of the whole file at its end
   */
  readonly runs: () => AsyncGenerator<TypedRows<ReadingRecord>, void, undefined>;
}

const readingsFile = `${readingTable.name}.csv`;

/**
 * Opens a study of which the readings are read run by run. All other tables are read and checked at once; each run is
 * checked by the same rules before it is handed over. What only all readings together can show is not checked: expiry of
 * standards on the day of a run, exclusions of readings that do not exist.
 *
 * @throws RecordsError with all problems of the other tables
 * @throws InputError there is no such folder
 */
export async function streamStudy(folder: string): Promise<StudyStream> {
  const issues = new IssueList();
  const decoded = await decodeStudy(folder, issues, [readingTable.name]);
  const place = { path: folder, tables: [], hasWorkbook: false };
  await fits(place, readingsFile, sizeLimits.csvBytes, issues);
  // A table that is not whole: nothing is concluded from rows that are not in it.
  const readings = { file: readingsFile, records: [], rows: [], broken: [], isWhole: false };
  const study: DecodedStudy = { ...decoded, tables: { ...decoded.tables, readings } };
  checkAcrossTables(study, issues);
  if (issues.all().length > 0) throw new RecordsError(issues.all());
  const records = recordsOf(study);
  const decimalMark = records.plan.decimalMark ?? null;
  const path = join(folder, readingsFile);
  return {
    records,
    async *runs() {
      const found = new IssueList();
      const check = new ReadingsCheck(study, found);
      const reading = { table: readingTable, path, file: readingsFile, decimalMark, issues: found };
      for await (const rows of readRowGroups(reading, 'run')) {
        check.run(rows);
        if (found.all().length > 0) throw new RecordsError(found.all());
        yield rows;
      }
      if (found.all().length > 0) throw new RecordsError(found.all());
    },
  };
}
