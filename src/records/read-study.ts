import { type RecordIssue, RecordsError } from '../errors.js';
import { checkAcrossTables } from './checks/check-across-tables.js';
import { decodeStudy } from './decode-study.js';
import type { DecodedStudy, SourceFile } from './decoded-study.js';
import { IssueList } from './issue-list.js';
import { type LeftOpen, leftOpen } from './left-open.js';
import type { StudyRecords } from './study-records.js';
import { type RecordOf, studyTables, type TableName, tableNames } from './study-tables.js';

/** Records with the files they came from. */
export interface StudyWithProvenance {
  readonly records: StudyRecords;
  readonly provenance: readonly SourceFile[];
}

/** What the checker has to say about a study. */
export interface StudyCheck {
  /** Every problem of every file; no report is made while one stands. */
  readonly issues: readonly RecordIssue[];
  /** Files read, with SHA-256 and rows below the heading. */
  readonly tables: readonly SourceFile[];
  readonly missingTables: readonly TableName[];
  /** Tables whose rows could not be told apart, as something is wrong with their headings or form. */
  readonly unreadTables: readonly TableName[];
  /** True where a document or a row could not be read: what hangs on it is checked once that is mended. */
  readonly moreToCheck: boolean;
  /** What missing tables leave undecided; a table that nothing hangs on is not among them. */
  readonly notStudied: readonly { readonly table: TableName; readonly consequence: string }[];
  /** What sound records leave open beside: rows that enter no result, a check solution that was not read. */
  readonly leftOpen: readonly LeftOpen[];
}

/**
 * Checks a study folder and lists all problems at once: of each cell, each row, and of the tables against each other.
 * @throws InputError there is no such folder
 */
export async function checkStudy(folder: string): Promise<StudyCheck> {
  const { study, issues } = await decodeAndCheck(folder);
  const missingTables = missingFrom(study);
  return {
    issues,
    tables: study.files,
    missingTables,
    unreadTables: tableNames.filter((name) => isUnread(study, name)),
    moreToCheck:
      study.plan === null ||
      study.equipment === null ||
      tableNames.some((name) => isUnread(study, name) || (study.tables[name]?.broken.length ?? 0) > 0),
    notStudied: missingTables.flatMap((table) => {
      const consequence = studyTables[table].withoutIt;
      return consequence === null ? [] : [{ table, consequence }];
    }),
    leftOpen: leftOpen(study),
  };
}

/**
 * Reads the records of a study folder.
 * @throws RecordsError with all problems, where the study does not pass its check
 * @throws InputError there is no such folder
 */
export async function readStudy(folder: string): Promise<StudyRecords> {
  return (await readStudyWithProvenance(folder)).records;
}

/**
 * Reads the records of a study folder together with the names, row counts and SHA-256 of the files they came from.
 * The fingerprint is taken of the very bytes that are decoded.
 * @throws RecordsError with all problems, where the study does not pass its check
 * @throws InputError there is no such folder
 */
export async function readStudyWithProvenance(folder: string): Promise<StudyWithProvenance> {
  const { study, issues } = await decodeAndCheck(folder);
  if (issues.length > 0) throw new RecordsError(issues);
  return { records: recordsOf(study, issues), provenance: study.files };
}

/**
 * Records of a study that passed its check.
 * @throws RecordsError plan or register did not pass
 */
export function recordsOf(study: DecodedStudy, issues: readonly RecordIssue[] = []): StudyRecords {
  const { plan, equipment, tables } = study;
  if (plan === null || equipment === null) throw new RecordsError(issues);
  const records = <N extends TableName>(name: N): readonly RecordOf<N>[] => tables[name]?.records ?? [];
  return {
    plan,
    equipment,
    digestions: records('digestions'),
    dilutions: records('dilutions'),
    calibration: records('calibration'),
    standards: records('standards'),
    readings: records('readings'),
    references: records('references'),
    spikes: records('spikes'),
    additions: records('additions'),
    comparison: records('comparison'),
    moisture: records('moisture'),
    interference: records('interference'),
    exclusions: records('exclusions'),
    factors: records('factors'),
    homogeneity: records('homogeneity'),
    history: records('history'),
    rounds: records('rounds'),
    missingTables: missingFrom(study),
  };
}

async function decodeAndCheck(
  folder: string,
): Promise<{ readonly study: DecodedStudy; readonly issues: readonly RecordIssue[] }> {
  const issues = new IssueList();
  const study = await decodeStudy(folder, issues);
  checkAcrossTables(study, issues);
  return { study, issues: issues.all() };
}

/** Tables that are absent, or hold nothing below their heading. */
function missingFrom({ tables }: DecodedStudy): TableName[] {
  return tableNames.filter((name) => {
    const table = tables[name];
    return table === undefined || (table.isWhole && table.records.length + table.broken.length === 0);
  });
}

function isUnread({ tables }: DecodedStudy, name: TableName): boolean {
  const table = tables[name];
  return table !== undefined && !table.isWhole && table.records.length + table.broken.length === 0;
}
