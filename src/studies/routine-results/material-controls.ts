import type { StudyRecords } from '../../records/study-records.js';
import type { DigestionRecord } from '../../records/tables/digestions.js';
import { mean } from '../../statistics/descriptive/mean.js';
import type { EvaluatedStudy } from '../evaluate-study.js';
import { resultsOf } from '../matrix/matrix-context.js';
import type { MatrixValidation } from '../matrix/validate-matrix.js';
import type { ScatterOfResults } from '../result-covariance/scatter-of-results.js';
import { digestionFlags } from './digestion-flags.js';
import { notMade, type RunControl, reachOf } from './routine-result.js';
import { ofRun, runsOf } from './runs-of-measurement.js';

/**
 * Reference materials of each run against their mean in the validation, ±3 of the standard deviation of the mean over days. Where
 * a material of the run gave no value there, the control is not made; digestions of it without a value are named.
 *
 * @param records of the run, with the digestions that have no result
 */
export function materialControls(
  run: EvaluatedStudy,
  validation: MatrixValidation,
  scatter: ScatterOfResults,
  records: StudyRecords,
): RunControl[] {
  const references = records.digestions.filter((d) => d.kind === 'reference');
  const materials = [...new Set(references.map((d) => d.sample))];
  return materials.flatMap((material) => {
    const rows = references.filter((d) => d.sample === material);
    const runs = runsOfMaterial(run, records, rows);
    return records.plan.analytes.flatMap(({ analyte, unit }) => {
      const before = resultsOf(validation.study, analyte, 'reference', material).map((r) => r.value);
      const at = scatter.analytes.indexOf(analyte);
      if (before.length < 5 || at < 0) return [];
      const centre = mean(before);
      const oneResult = scatter.digestions[at]![at]! + Math.max(0, scatter.days[at]![at]!);
      const all = resultsOf(run, analyte, 'reference', material);
      return runs.flatMap(({ name, digestions }): RunControl[] => {
        const own = all.filter((r) => r.run === name);
        const control = {
          control: `reference material ${material}${ofRun(run, name)}`,
          about: analyte,
          unit,
        };
        const reach = reachOf({ analyte, run: name });
        const without = withoutValue(records, digestions, analyte, all);
        if (own.length === 0) {
          // What was read again has its result in another run.
          if (without.length === 0) return [];
          const holds = { kind: 'no reference material in the run' as const, reach };
          return [notMade({ ...control, holds }, without.join('; '))];
        }
        const found = own.map((r) => r.value);
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
      });
    });
  });
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

/** What the digestions without a value of an analyte lack. */
function withoutValue(
  records: StudyRecords,
  digestions: readonly DigestionRecord[],
  analyte: string,
  results: ReturnType<typeof resultsOf>,
): string[] {
  const valued = results.map((r) => r.observation.digestion);
  const found = { analyte, valued, read: digestions.map((d) => d.digestion) };
  const missing = digestions.filter((d) => !valued.includes(d.digestion));
  return digestionFlags(records, missing, found)
    .filter(({ kind }) => kind !== 'fewer digestions than planned')
    .map(({ text }) => text);
}
