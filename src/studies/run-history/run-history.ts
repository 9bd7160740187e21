import type { StudyRecords } from '../../records/study-records.js';
import type { ResultRemark, WithoutResult } from '../result-stream/run-remarks.js';
import type { RunResults, StreamedResult } from '../result-stream/stream-results.js';

/** How often something was found, and where. */
export interface Occurrence {
  readonly results: number;
  /** Names of runs or digestions, in the order met. */
  readonly where: readonly string[];
}

/** What the runs of a study came to. */
export interface RunHistory {
  readonly study: string;
  readonly invented: boolean;
  readonly runs: number;
  /** Earliest and latest day of a run; null without a run. */
  readonly days: readonly [earliest: string, latest: string] | null;
  readonly results: number;
  readonly controlResults: number;
  /** Results with at least one remark. */
  readonly remarked: number;
  /** With the runs in which they were made. */
  readonly remarks: ReadonlyMap<ResultRemark, Occurrence>;
  /** What was read without coming to a result, with its digestions. */
  readonly withoutResult: ReadonlyMap<WithoutResult, Occurrence>;
  /** Runs that came to no result. */
  readonly runsWithoutResult: readonly string[];
  /** Those that came to results, but to none of a reference material. */
  readonly runsWithoutMaterial: readonly string[];
  /** Digestions that were read in no run. */
  readonly notRead: readonly string[];
  /** False where the table of standards is empty: the stocks then count as exact. */
  readonly hasStandards: boolean;
}

interface Counted {
  results: number;
  readonly where: Set<string>;
}

/** Counts what runs come to, one after the other. */
export class HistoryCount {
  readonly #records: StudyRecords;
  readonly #remarks = new Map<ResultRemark, Counted>();
  readonly #withoutResult = new Map<WithoutResult, Counted>();
  readonly #runsWithoutResult: string[] = [];
  readonly #runsWithoutMaterial: string[] = [];
  readonly #read = new Set<string>();
  readonly #days: string[] = [];
  #results = 0;
  #remarked = 0;
  #controlResults = 0;

  /** @param records of the study; its readings are not looked at */
  constructor(records: StudyRecords) {
    this.#records = records;
  }

  /** @param results of the run */
  add(run: RunResults, results: readonly StreamedResult[]): void {
    this.#days.push(run.day);
    this.#controlResults += run.control.length;
    for (const { digestion } of run.digestions) this.#read.add(digestion);
    for (const { digestion, reason } of run.withoutResult())
      count(this.#withoutResult, reason, digestion.digestion);
    const { driftCheckSolution } = this.#records.plan;
    if (results.length === 0) this.#runsWithoutResult.push(run.run);
    else if (run.control.every(({ material }) => material === driftCheckSolution))
      this.#runsWithoutMaterial.push(run.run);
    this.#results += results.length;
    for (const { remarks } of results) {
      if (remarks.length > 0) this.#remarked++;
      for (const remark of remarks) count(this.#remarks, remark, run.run);
    }
  }

  /** What was found up to now. */
  found(): RunHistory {
    const { plan, standards, digestions } = this.#records;
    const days = [...this.#days].sort();
    return {
      ...{ study: plan.study, invented: plan.invented, runs: days.length },
      days: days.length === 0 ? null : [days[0]!, days.at(-1)!],
      ...{ results: this.#results, controlResults: this.#controlResults, remarked: this.#remarked },
      remarks: occurrences(this.#remarks),
      withoutResult: occurrences(this.#withoutResult),
      runsWithoutResult: this.#runsWithoutResult,
      runsWithoutMaterial: this.#runsWithoutMaterial,
      notRead: digestions.map((row) => row.digestion).filter((name) => !this.#read.has(name)),
      hasStandards: standards.length > 0,
    };
  }
}

function count<K>(counted: Map<K, Counted>, key: K, where: string): void {
  const known = counted.get(key);
  if (known === undefined) counted.set(key, { results: 1, where: new Set([where]) });
  else {
    known.results++;
    known.where.add(where);
  }
}

function occurrences<K>(counted: ReadonlyMap<K, Counted>): ReadonlyMap<K, Occurrence> {
  return new Map([...counted].map(([key, { results, where }]) => [key, { results, where: [...where] }]));
}
