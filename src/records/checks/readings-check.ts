import type { TypedRows } from '../csv/typed-rows.js';
import { dateOf, momentText } from '../dates.js';
import type { DecodedStudy } from '../decoded-study.js';
import type { IssueList } from '../issue-list.js';
import { type ReadingRecord, readingTable } from '../tables/readings.js';
import { checkAnalytesAndLines } from './analytes-and-lines.js';
import { checkDuplicateKeys } from './duplicate-keys.js';
import { excludedReadings, readingKey } from './excluded-readings.js';
import { checkExcludedReadings } from './exclusions.js';
import { checkStandardsOfRuns, firstExpiryByRun } from './expiry.js';
import { checkInternalStandardReadings } from './internal-standard-readings.js';
import { arePlainReadings } from './plain-readings.js';
import { planSolutions } from './plan-solutions.js';
import { withoutRows } from './required-tables.js';
import { checkSequence } from './sequence.js';
import { checkSolutions } from './solutions.js';
import { checkSpectrometers, spectrometerProblem } from './spectrometers.js';
import { StudyView } from './study-view.js';

/**
 * Checks the readings of one run after the other against the other tables and each other. What is plainly sound is
 * passed over column by column; a run with anything else goes through the checks of whole tables, which word the
 * problems.
 */
export class ReadingsCheck {
  readonly #study: DecodedStudy;
  readonly #issues: IssueList;
  readonly #lines: ReadonlyMap<string, readonly number[]>;
  readonly #common: ReadonlySet<string>;
  readonly #standards = new Map<string, Set<string>>();
  /** Day on which the first standard of a run expires. */
  readonly #firstExpiry: ReadonlyMap<string, string>;
  /** Day on which a solution that the plan names, or what it was made from, expires. */
  readonly #planExpiry: ReadonlyMap<string, string>;
  readonly #seen = new Set<string>();
  readonly #excluded: ReadonlySet<string>;
  readonly #excludedFound = new Set<string>();

  constructor(study: DecodedStudy, issues: IssueList) {
    this.#study = study;
    this.#issues = issues;
    const { plan, tables } = study;
    const view = new StudyView(study, issues);
    this.#firstExpiry = firstExpiryByRun(view);
    this.#excluded = excludedReadings(view);
    // Each solution as a run of its own name.
    const named = plan === null ? [] : planSolutions(plan);
    const alone = new StudyView(
      { ...study, tables: tables.standards === undefined ? {} : { standards: tables.standards } },
      issues,
    );
    this.#planExpiry = firstExpiryByRun(alone, new Map(named.map((each) => [each, new Set([each])])));
    const lines = new Map<string, readonly number[]>();
    for (const { analyte, lineNm, secondLineNm } of plan?.analytes ?? []) {
      lines.set(analyte, [lineNm, secondLineNm ?? lineNm]);
    }
    if (plan !== null) lines.set(plan.internalStandard.element, [plan.internalStandard.lineNm]);
    this.#lines = lines;
    this.#common = new Set([
      ...(tables.digestions?.records ?? []).map(({ digestion }) => digestion),
      ...(tables.dilutions?.records ?? []).map(({ dilution }) => dilution),
      ...(plan === null ? [] : planSolutions(plan)),
    ]);
    for (const { run, solution } of tables.calibration?.records ?? []) {
      const known = this.#standards.get(run) ?? new Set<string>();
      this.#standards.set(run, known.add(solution));
    }
  }

  /** Readings of one run, whole. */
  run(rows: TypedRows<ReadingRecord>): void {
    const run = rows.values('run')[rows.codes('run')[0]!]!;
    if (this.#seen.has(run)) {
      this.#issues.add({
        code: 'run apart',
        file: `${readingTable.name}.csv`,
        row: rows.rows[0]!,
        column: 'run',
        found: `readings of run ${run} after those of another`,
        expected: 'the readings of a run together',
      });
    }
    this.#seen.add(run);
    const lastDay = lastDayOf(rows);
    const hasSpectrometer = spectrometerProblem(this.#study.equipment ?? [], lastDay) === null;
    if (!hasSpectrometer || !this.#arePlain(rows, run)) this.#checkAsTable(rows);
    const expired = [...this.#planExpiry].filter(([, expiry]) => expiry < lastDay);
    const read = expired.length === 0 ? [] : solutionsIn(rows, expired);
    if (read.length > 0 || lastDay > (this.#firstExpiry.get(run) ?? lastDay)) {
      const view = new StudyView(this.#study, this.#issues);
      checkStandardsOfRuns(view, new Map([[run, lastDay]]), new Map([[run, new Set(read)]]));
    }
    this.#findExcluded(rows, run);
  }

  /** To be called after the last run: are there readings at all, and those that the study excludes? */
  end(): void {
    if (this.#seen.size === 0) this.#issues.add(withoutRows('readings', `${readingTable.name}.csv`));
    else checkExcludedReadings(new StudyView(this.#study, this.#issues), this.#excludedFound);
  }

  #findExcluded(rows: TypedRows<ReadingRecord>, run: string): void {
    // Naming all readings takes long: most runs have none that is excluded.
    const own = [...this.#excluded].filter((key) => key.startsWith(`${run}|`));
    for (let row = 0; own.length > 0 && row < rows.count; row++) {
      const key = readingKey(rows.record(row));
      if (this.#excluded.has(key)) this.#excludedFound.add(key);
    }
  }

  #arePlain(rows: TypedRows<ReadingRecord>, run: string): boolean {
    const standards = this.#standards.get(run);
    if (standards === undefined) return false;
    return arePlainReadings(rows, this.#lines, (name) => this.#common.has(name) || standards.has(name));
  }

  #checkAsTable(rows: TypedRows<ReadingRecord>): void {
    const readings = {
      file: `${readingTable.name}.csv`,
      records: Array.from({ length: rows.count }, (_, i) => rows.record(i)),
      rows: [...rows.rows],
      broken: [],
      isWhole: true,
    };
    // The other tables have been checked: here their rows are only looked up.
    const study = { ...this.#study, tables: { ...this.#study.tables, readings } };
    const view = new StudyView(study, this.#issues);
    checkDuplicateKeys({ ...study, tables: { readings } }, this.#issues);
    checkSolutions(view);
    checkAnalytesAndLines(view);
    checkInternalStandardReadings(view);
    checkSequence(view);
    checkSpectrometers(view);
  }
}

/** Those of the solutions that were read. */
function solutionsIn(
  rows: TypedRows<ReadingRecord>,
  solutions: readonly (readonly [string, string])[],
): string[] {
  const names = rows.values('solution');
  const codes = rows.codes('solution');
  return solutions.map(([name]) => name).filter((name) => codes.includes(names.indexOf(name)));
}

function lastDayOf(rows: TypedRows<ReadingRecord>): string {
  return dateOf(momentText(latestOf(rows.numbers('time'))));
}

function latestOf(times: Float64Array): number {
  let latest = times[0]!;
  for (let row = 1; row < times.length; row++) if (times[row]! > latest) latest = times[row]!;
  return latest;
}
