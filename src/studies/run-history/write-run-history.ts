import { type FolderParts, writeFolderWhole } from '../../records/atomic-write.js';
import { encodeCsvRows } from '../../records/csv/encode-csv.js';
import { guardFormula } from '../../records/formula-guard.js';
import { streamStudy } from '../../records/stream-study.js';
import { encodeTable } from '../../records/table-form/encode-table.js';
import { type HistoryRecord, historyTable } from '../../records/tables/history.js';
import { type StreamedResult, streamResults } from '../result-stream/stream-results.js';
import { aboutRunHistory } from './about-run-history.js';
import { HistoryCount, type RunHistory } from './run-history.js';

/** What can be said to `writeRunHistory` beside the folders. */
export interface RunHistoryOptions {
  /** Asked between runs; what was begun is then taken away. */
  readonly signal?: AbortSignal;
}

/**
 * Works out the runs of a study one after the other and writes their results (`results.csv`), their control results in the form of
 * the table `history` (`history.csv`) and what both are (`about.md`) into a new folder, whole or not at all. Only the readings of
 * one run are held.
 *
 * @param study folder of the study
 * @param folder a new one
 * @throws RecordsError problems in the records, those of the readings when their run is reached
 * @throws InputError no such study, a folder that exists, a study that runs one after the other cannot be worked out for
 */
export async function writeRunHistory(
  study: string,
  folder: string,
  options: RunHistoryOptions = {},
): Promise<RunHistory> {
  const { records, runs } = await streamStudy(study);
  const { plan } = records;
  const reportedAs = new Map(plan.analytes.map(({ analyte, oxide }) => [analyte, oxide ?? analyte]));
  const control: HistoryRecord[] = [];
  const count = new HistoryCount(records);
  const files: FolderParts = {
    'results.csv': (async function* () {
      yield encodeCsvRows([headings]);
      for await (const run of streamResults(records, runs())) {
        options.signal?.throwIfAborted();
        const results = [...run.results()];
        for (const row of run.control) control.push(row);
        count.add(run, results);
        yield encodeCsvRows(results.map((each) => rowOf(run.run, run.day, each, reportedAs)));
      }
    })(),
    // Made when their turn comes, once all runs have passed.
    'history.csv': (async function* () {
      const { headings: first, rows } = encodeTable(historyTable, control);
      yield encodeCsvRows([first, ...rows]);
    })(),
    'about.md': (async function* () {
      yield aboutRunHistory(count.found(), plan);
    })(),
  };
  await writeFolderWhole(folder, files);
  return count.found();
}

const headings = [
  ...['run', 'day', 'digestion', 'sample', 'kind'],
  ...['analyte', 'reported as', 'value', 'standard uncertainty', 'unit', 'remarks'],
];

function rowOf(
  run: string,
  day: string,
  { digestion, analyte, value, standardUncertainty, unit, remarks }: StreamedResult,
  reportedAs: ReadonlyMap<string, string>,
): (string | number)[] {
  const names = [run, day, digestion.digestion, digestion.sample, digestion.kind, analyte];
  return [
    ...names.map(guardFormula),
    ...[reportedAs.get(analyte)!, value, standardUncertainty, unit],
    remarks.join('; '),
  ];
}
