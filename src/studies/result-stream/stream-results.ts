import { correlatedResult } from '../../chain/correlated-result.js';
import { type ResultObservation, resultModel } from '../../chain/result-model.js';
import { InputError } from '../../errors.js';
import type { TypedRows } from '../../records/csv/typed-rows.js';
import type { StudyRecords } from '../../records/study-records.js';
import { rowKey } from '../../records/table-form/table.js';
import type { DigestionRecord } from '../../records/tables/digestions.js';
import type { HistoryRecord } from '../../records/tables/history.js';
import { type ReadingRecord, readingTable } from '../../records/tables/readings.js';
import type { CorrelatedResult } from '../../uncertainty/correlated-results/correlated-result.js';
import { observe } from '../observations.js';
import { calibratedScopes } from '../run-calibrations.js';
import { indexStudy, type StudyIndex } from '../study-index.js';
import { controlResults } from './control-results.js';
import { RunEvaluator, type RunFigures } from './evaluate-run.js';
import { RunOpener } from './run-opener.js';
import { type RunReadings, runReadings } from './run-readings.js';
import { type ResultRemark, RunRemarks, type WithoutResult } from './run-remarks.js';
import { type StreamContext, streamContext } from './stream-context.js';
import { type OpenRun, type RandomPartsOf, TemplateStore } from './template-store.js';

/** One result of a run. */
export interface StreamedResult {
  readonly digestion: DigestionRecord;
  readonly analyte: string;
  /** Mass fraction in `unit` and the oxide form of the plan. */
  readonly value: number;
  readonly standardUncertainty: number;
  readonly unit: string;
  /** What the records of the run show at once; controls are not judged. */
  readonly remarks: readonly ResultRemark[];
}

/** An analyte that was read in a digestion with a portion and has no result. */
export interface ReadWithoutResult {
  readonly digestion: DigestionRecord;
  readonly analyte: string;
  readonly reason: WithoutResult;
}

/** Results of one run, each as its run stands alone: its own calibration, blanks, checks and scatter of readings. */
export class RunResults {
  readonly run: string;
  /** Calendar date of the run's first reading. */
  readonly day: string;
  /** Digestions read in the run, blanks included. */
  readonly digestions: readonly DigestionRecord[];
  readonly analytes: readonly string[];
  /** By `digestion · analytes + analyte`; NaN where there is no result. */
  readonly figures: RunFigures;
  /** Reference materials and check solutions of the run, as rows of the control history. */
  readonly control: readonly HistoryRecord[];
  readonly #context: StreamContext;
  readonly #open: OpenRun;
  readonly #randomPartsOf: RandomPartsOf;
  #index: StudyIndex | null = null;

  constructor(context: StreamContext, open: OpenRun, figures: RunFigures, randomPartsOf: RandomPartsOf) {
    this.run = open.readings.run;
    this.day = open.readings.day;
    this.digestions = open.signals.digestions;
    this.analytes = open.readings.scopes.map(({ analyte }) => analyte);
    this.figures = figures;
    this.control = controlResults(context, open, figures);
    this.#context = context;
    this.#open = open;
    this.#randomPartsOf = randomPartsOf;
  }

  /** All results of the run, digestion by digestion. */
  *results(): Generator<StreamedResult, void, undefined> {
    const { scopes } = this.#open.readings;
    const remarks = this.#remarks();
    for (const [d, digestion] of this.digestions.entries()) {
      for (const [line, { analyte, unit }] of scopes.entries()) {
        const cell = d * scopes.length + line;
        const value = this.figures.values[cell]!;
        if (Number.isNaN(value)) continue;
        const standardUncertainty = this.figures.standardUncertainties[cell]!;
        yield { digestion, analyte, value, standardUncertainty, unit, remarks: remarks.of(d, line) };
      }
    }
  }

  /** What was read and has no result, digestion by digestion. */
  *withoutResult(): Generator<ReadWithoutResult, void, undefined> {
    const remarks = this.#remarks();
    for (const [d, digestion] of this.digestions.entries()) {
      for (const [line, { analyte }] of this.#context.records.plan.analytes.entries()) {
        const reason = remarks.withoutResult(d, line);
        if (reason !== null) yield { digestion, analyte, reason };
      }
    }
  }

  #remarks(): RunRemarks {
    return new RunRemarks(this.#context, this.#open, this.figures);
  }

  /**
   * Index of this run alone, for everything that is asked of single results. To be asked for before the next run is read.
   */
  index(): StudyIndex {
    if (this.#index === null) {
      const digestions = new Set(this.digestions);
      const records: StudyRecords = {
        ...this.#context.records,
        digestions: this.#context.records.digestions.filter((row) => digestions.has(row)),
        calibration: this.#context.calibrationOf.get(this.run) ?? [],
      };
      const { spectrometer } = this.#open;
      this.#index = { ...indexStudy(records, this.#open.readings.measured()), spectrometer };
    }
    return this.#index;
  }

  /**
   * Everything one result rests on: budget, covariance and simulation start from it. See `index`.
   * @returns null where there is no such result
   */
  observation(digestion: string, analyte: string): ResultObservation | null {
    const line = this.analytes.indexOf(analyte);
    return observe(this.index(), digestion, analyte, this.figures.blanks[line] ?? null);
  }

  /**
   * One result as a sum over independent sources: with it come its covariances with every other result. See `index`.
   * @returns null where there is no such result
   */
  correlated(digestion: string, analyte: string): CorrelatedResult | null {
    const observation = this.observation(digestion, analyte);
    if (observation === null) return null;
    return correlatedResult(observation, resultModel(observation, this.#randomPartsOf(analyte)));
  }
}

/** What streaming needs beside the readings. */
export interface StreamOptions {
  /** How random parts are counted; absent: by components, with nothing left unexplained. */
  readonly randomPartsOf?: RandomPartsOf;
}

/**
 * Results of many runs, one run after the other: mass fractions with standard uncertainties, and the control history.
 * Only the readings of one run are held.
 *
 * @param records all tables but the readings, which are not looked at here
 * @param runs readings of one run at a time, such as `readRowGroups` gives
 * @throws InputError a run that comes twice or is not calibrated, records that the chain cannot combine
 */
export async function* streamResults(
  records: StudyRecords,
  runs: AsyncIterable<TypedRows<ReadingRecord>>,
  options: StreamOptions = {},
): AsyncGenerator<RunResults, void, undefined> {
  const context = streamContext(records);
  const { randomPartsOf = () => ({ route: 'components', unexplained: null }) } = options;
  const evaluator = new RunEvaluator(context, new TemplateStore(context, randomPartsOf));
  const opener = new RunOpener(context);
  const scopes = calibratedScopes(records.plan);
  const excluded = new Set(
    records.exclusions.filter(({ table }) => table === 'readings').map((row) => row.rowKey),
  );
  const seen = new Set<string>();
  for await (const rows of runs) {
    if (rows.count === 0) continue;
    const readings = runReadings(rows, scopes, exclusionOf(rows, excluded));
    requireNew(readings, seen);
    const open = opener.open(readings);
    yield new RunResults(context, open, evaluator.evaluate(open), randomPartsOf);
  }
}

function exclusionOf(
  rows: TypedRows<ReadingRecord>,
  keys: ReadonlySet<string>,
): ((row: number) => boolean) | undefined {
  if (keys.size === 0) return undefined;
  const isExcluded = Array.from({ length: rows.count }, (_, row) =>
    keys.has(rowKey(readingTable, rows.record(row))),
  );
  return (row) => isExcluded[row]!;
}

function requireNew({ run }: RunReadings, seen: Set<string>): void {
  if (seen.has(run)) {
    throw new InputError(`run ${run}: found readings of it after another run, expected them together`);
  }
  seen.add(run);
}
