import { stat } from 'node:fs/promises';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { type RecordIssue, RecordsError } from '../errors.js';
import { checkAcrossTables } from './checks/check-across-tables.js';
import { ReadingsCheck } from './checks/readings-check.js';
import { readRowGroups } from './csv/read-row-groups.js';
import type { TypedReading } from './csv/read-typed-rows.js';
import { ReadingThread } from './csv/thread/reading-thread.js';
import type { TypedRows } from './csv/typed-rows.js';
import { decodeStudy } from './decode-study.js';
import type { DecodedStudy } from './decoded-study.js';
import { IssueList } from './issue-list.js';
import { statedDecimalMark } from './json/read-json.js';
import { recordsOf } from './read-study.js';
import { sizeLimits } from './size-limits.js';
import { fits, openStudyFolder, planFile, readStudyFile } from './study-folder.js';
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

/** What streaming may be told. */
export interface StreamStudyOptions {
  /** Whether readings are read in a thread of their own; absent: where there are many and the machine can do both at once. */
  readonly inThread?: boolean;
}

/** A thread takes as long to start as it takes to read so much. */
const worthAThread = 8e6;

const readingsFile = `${readingTable.name}.csv`;

/**
 * Opens a study of which the readings are read run by run. All other tables are read and checked at once; each run is
 * checked by the same rules before it is handed over, standards that expired before its last day among them; after the last
 * one, exclusions of readings that do not exist. Not checked are digestions that nothing was read of, solutions read before they
 * were fused, and runs of fewer than three standards (which end the evaluation).
 *
 * @throws RecordsError with all problems of the other tables
 * @throws InputError there is no such folder
 */
export async function streamStudy(folder: string, options: StreamStudyOptions = {}): Promise<StudyStream> {
  const early = await startEarly(folder, options.inThread);
  try {
    return await openStream(folder, early);
  } catch (error) {
    await early?.end();
    throw error;
  }
}

/** Starts to read while the other tables are worked on; null where that is not worth it, or a file is not in order. */
async function startEarly(folder: string, inThread: boolean | undefined): Promise<ReadingThread | null> {
  if (inThread === false || (inThread === undefined && availableParallelism() === 1)) return null;
  // Problems are found again, and worded, when the study is decoded.
  const ignored = new IssueList();
  const opened = await openStudyFolder(folder, ignored);
  const plan = await readStudyFile(opened, planFile, sizeLimits.jsonBytes, ignored);
  if (plan === null || !(await fits(opened, readingsFile, sizeLimits.csvBytes, ignored))) return null;
  const path = join(opened.path, readingsFile);
  if (inThread === undefined && (await stat(path)).size < worthAThread) return null;
  return new ReadingThread({ path, file: readingsFile, decimalMark: statedDecimalMark(plan) });
}

async function openStream(folder: string, early: ReadingThread | null): Promise<StudyStream> {
  const issues = new IssueList();
  const decoded = await decodeStudy(folder, issues, [readingTable.name]);
  const place = { path: folder, tables: [], hasWorkbook: false };
  const sheet = decoded.tables.readings?.file;
  if (sheet !== undefined) issues.add(inWorkbook(sheet));
  else await fits(place, readingsFile, sizeLimits.csvBytes, issues);
  // A table that is not whole: nothing is concluded from rows that are not in it.
  const readings = { file: readingsFile, records: [], rows: [], broken: [], isWhole: false };
  const study: DecodedStudy = { ...decoded, tables: { ...decoded.tables, readings } };
  checkAcrossTables(study, issues);
  if (issues.all().length > 0) throw new RecordsError(issues.all());
  const records = recordsOf(study);
  const decimalMark = records.plan.decimalMark ?? null;
  const reading = { table: readingTable, path: join(folder, readingsFile), file: readingsFile, decimalMark };
  return {
    records,
    async *runs() {
      const found = new IssueList();
      const check = new ReadingsCheck(study, found);
      for await (const rows of readingRuns({ ...reading, issues: found }, early)) {
        check.run(rows);
        if (found.all().length > 0) throw new RecordsError(found.all());
        yield rows;
      }
      // What was not read whole is not said to be missing.
      if (found.all().length === 0) check.end();
      if (found.all().length > 0) throw new RecordsError(found.all());
    },
  };
}

/** A workbook comes whole or not at all, and its sheet beside the file would be a second table of readings. */
function inWorkbook(sheet: string): RecordIssue {
  const expected = `the readings in ${readingsFile} alone, to be read run by run`;
  return { code: 'file', file: sheet, row: null, column: null, found: 'a table of readings', expected };
}

/** Runs by the thread that has begun if nobody took them from it yet; else by another one. */
function readingRuns(reading: TypedReading<ReadingRecord>, early: ReadingThread | null) {
  if (early === null) return readRowGroups(reading, 'run');
  const thread = early.isWaiting ? early : new ReadingThread(reading);
  return thread.runs(reading.issues);
}
