import { basename, resolve } from 'node:path';
import { writeFolderWhole } from '../records/atomic-write.js';
import { readBudgetFile } from '../records/budget-file.js';
import {
  evaluateMeasurement,
  type MeasurementEvaluation,
  type MeasurementOptions,
  measurementOf,
} from '../studies/measurement/evaluate-measurement.js';

/** A budget file evaluated, and where its report was written. */
export interface EvaluatedBudgetFile {
  readonly evaluation: MeasurementEvaluation;
  /** What the file says of its figures; empty where it says nothing. */
  readonly remark: string;
  /** Path of the HTML report; `null` where none was asked for. */
  readonly report: string | null;
}

/**
 * Reads and evaluates a budget file, and writes its report where a folder is named: whole, or not at all.
 *
 * @param path of the budget file
 * @param options `out`: a folder that does not exist yet, or is empty
 * @throws RecordsError every problem of the file
 * @throws InputError no such file, an output that the file lacks, a folder that is not empty
 */
export async function budgetOfFile(
  path: string,
  options: MeasurementOptions & { readonly out?: string } = {},
): Promise<EvaluatedBudgetFile> {
  const file = await readBudgetFile(path);
  const { remark = '' } = file;
  const evaluation = await evaluateMeasurement(measurementOf(file), options);
  if (options.out === undefined) return { evaluation, remark, report: null };
  const folder = resolve(options.out);
  // On use: drawing and typesetting take longer to load than a budget takes to evaluate.
  const [{ reportFiles }, { budgetReport }, { sha256OfFile }, { timestamp, versions }] = await Promise.all([
    import('./save-report.js'),
    import('../report/dossier/budget-report.js'),
    import('../records/checksum.js'),
    import('./versions.js'),
  ]);
  const document = budgetReport(evaluation, {
    remark,
    file: { file: basename(path), rows: null, sha256: await sha256OfFile(path) },
    provenance: {
      issue: '',
      created: timestamp(),
      versions: versions(),
      seed: evaluation.simulation?.seed ?? null,
      parameters: parametersOf(options, evaluation),
      notes: [],
    },
  });
  await writeFolderWhole(folder, reportFiles(document));
  return { evaluation, remark, report: resolve(folder, 'report.html') };
}

/** What a repetition needs beside the file. */
function parametersOf(
  { output, simulation }: MeasurementOptions,
  evaluation: MeasurementEvaluation,
): Record<string, unknown> {
  const { trials } = evaluation.simulation ?? {};
  const { adaptive } = simulation ?? {};
  return {
    ...(output === undefined ? {} : { output }),
    ...(adaptive === undefined ? { trials: trials ?? 0 } : { digits: adaptive.digits }),
  };
}
