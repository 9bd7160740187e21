import { resultValue } from '../../chain/result-model.js';
import type { AnalyteScope } from '../../records/study.js';
import type { StudyRecords } from '../../records/study-records.js';
import type { DigestionRecord } from '../../records/tables/digestions.js';
import { mean } from '../../statistics/descriptive/mean.js';
import type { EvaluatedStudy } from '../evaluate-study.js';
import { resultsOf } from '../matrix/matrix-context.js';
import type { MatrixValidation } from '../matrix/validate-matrix.js';
import { observe } from '../observations.js';
import type { ScatterOfResults } from '../result-covariance/scatter-of-results.js';
import { usable } from '../study-index.js';
import { remarksOnDigestions } from './digestion-flags.js';
import { notMade, type RunControl, reachOf } from './routine-result.js';
import { ofRun, runsOf } from './runs-of-measurement.js';

/** Fewer say too little about the mean of a material. */
const fewestBefore = 5;

/**
 * Reference materials of each run against their mean in the validation, ±3 of the standard deviation of the mean over days.
 * Digestions of a material that have no value, or were not clear, are named. Where results of a run have no such control, as no
 * material was read there or the validation did not digest it often enough, it is not made.
 *
 * @param records of the run, with the digestions that have no result
 * @see limits of three standard deviations, five results at least: common practice, no source
 */
export function materialControls(
  run: EvaluatedStudy,
  validation: MatrixValidation,
  scatter: ScatterOfResults,
  records: StudyRecords,
): RunControl[] {
  const references = records.digestions.filter((d) => d.kind === 'reference');
  const materials = [...new Set(references.map((d) => d.sample))].map((material): RunsOfMaterial => {
    const rows = references.filter((d) => d.sample === material);
    return { material, runs: runsOfMaterial(run, records, rows) };
  });
  const context: Context = { run, validation, scatter, records };
  return [
    ...materials.flatMap(({ material, runs }) =>
      records.plan.analytes.flatMap((scope) =>
        runs.flatMap((where) => materialControl(context, scope, material, where)),
      ),
    ),
    ...records.plan.analytes.flatMap((scope) => withoutMaterial(context, scope, materials)),
  ];
}

interface Context {
  readonly run: EvaluatedStudy;
  readonly validation: MatrixValidation;
  readonly scatter: ScatterOfResults;
  readonly records: StudyRecords;
}

function materialControl(
  { run, validation, scatter, records }: Context,
  { analyte, unit }: AnalyteScope,
  material: string,
  { name, digestions }: RunOfMaterial,
): RunControl[] {
  const before = resultsOf(validation.study, analyte, 'reference', material).map((r) => r.value);
  const at = scatter.analytes.indexOf(analyte);
  if (before.length < fewestBefore || at < 0) return [];
  const centre = mean(before);
  const oneResult = scatter.digestions[at]![at]! + Math.max(0, scatter.days[at]![at]!);
  const values = valuesIn(run, name, digestions, analyte);
  const control = { control: `reference material ${material}${ofRun(run, name)}`, about: analyte, unit };
  const reach = reachOf({ analyte, run: name });
  const without = remarksOnDigestions(records, digestions, analyte, [...values.keys()]);
  if (values.size === 0) {
    if (!isReported(run, analyte, name)) return [];
    const holds = { kind: 'no reference material in the run' as const, reach };
    return [notMade({ ...control, holds }, without.join('; '))];
  }
  const found = [...values.values()];
  const width = 3 * centre * Math.sqrt(oneResult * (1 / found.length + 1 / before.length));
  const value = mean(found);
  const rule = `mean of ${found.length} digestion(s) within ±3 standard deviations of the mean of ${before.length} in the validation`;
  return [
    {
      ...control,
      ...{ found: value, low: centre - width, high: centre + width },
      passed: Math.abs(value - centre) <= width,
      rule: [rule, ...without].join('; '),
      holds: { kind: 'reference material outside its limits', reach },
    },
  ];
}

/** Results of a material in one run by digestion; what was read in several runs counts in each of them. */
function valuesIn(
  run: EvaluatedStudy,
  name: string,
  digestions: readonly DigestionRecord[],
  analyte: string,
): Map<string, number> {
  const values = new Map<string, number>();
  for (const { digestion } of digestions) {
    if (!run.index.digestions.has(digestion) || !usable(run.index, digestion, analyte)) continue;
    const { blank } = run.blanks.get(analyte)!;
    const observation = observe(run.index, digestion, analyte, blank, { run: name });
    if (observation !== null) values.set(digestion, resultValue(observation));
  }
  return values;
}

/** Whether a sample has its result of an analyte in a run. */
function isReported({ results }: EvaluatedStudy, analyte: string, name: string): boolean {
  return results.some((r) => r.kind === 'sample' && r.analyte === analyte && r.run === name);
}

/** Runs whose results of an analyte no material stands beside that the validation knows. */
function withoutMaterial(
  { run, validation, scatter, records }: Context,
  { analyte, unit }: AnalyteScope,
  materials: readonly RunsOfMaterial[],
): RunControl[] {
  if (!scatter.analytes.includes(analyte)) return [];
  const before = (material: string) => resultsOf(validation.study, analyte, 'reference', material).length;
  return runsOf(run)
    .filter((name) => isReported(run, analyte, name))
    .flatMap((name) => {
      const read = materials.filter(({ runs }) => runs.some((r) => r.name === name));
      if (read.some(({ material }) => before(material) >= fewestBefore)) return [];
      const holds = {
        kind: 'no reference material in the run' as const,
        reach: reachOf({ analyte, run: name }),
      };
      const control = { control: `reference material${ofRun(run, name)}`, about: analyte, unit, holds };
      const unknown = read.map(
        ({ material }) =>
          `the validation has ${before(material)} result(s) of ${material}, expected at least ${fewestBefore}`,
      );
      const none = records.digestions.some((d) => d.kind === 'reference')
        ? 'none was read in it'
        : 'none was digested';
      return [notMade(control, unknown.length === 0 ? none : unknown.join('; '))];
    });
}

interface RunsOfMaterial {
  readonly material: string;
  readonly runs: readonly RunOfMaterial[];
}

interface RunOfMaterial {
  readonly name: string;
  /** Those of the material that were read there; all of them where none was read anywhere. */
  readonly digestions: readonly DigestionRecord[];
}

/** Runs in which a material was read, by itself or diluted; where it was read nowhere, all runs. */
function runsOfMaterial(
  run: EvaluatedStudy,
  { dilutions }: StudyRecords,
  rows: readonly DigestionRecord[],
): RunOfMaterial[] {
  const digestionOf = new Map(rows.map((row) => [row.digestion, row]));
  for (const { dilution, digestion } of dilutions) {
    const row = digestionOf.get(digestion);
    if (row !== undefined) digestionOf.set(dilution, row);
  }
  const read = new Map<string, Set<DigestionRecord>>();
  for (const { run: name, solution } of run.index.measured) {
    const row = digestionOf.get(solution);
    if (row !== undefined) read.set(name, (read.get(name) ?? new Set()).add(row));
  }
  if (read.size === 0) return runsOf(run).map((name) => ({ name, digestions: rows }));
  return [...read].map(([name, digestions]) => ({ name, digestions: [...digestions] }));
}
