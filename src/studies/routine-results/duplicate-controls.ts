import type { AnalyteScope } from '../../records/study.js';
import type { StudyRecords } from '../../records/study-records.js';
import { mean } from '../../statistics/descriptive/mean.js';
import { criticalRangeFactor } from '../../statistics/distributions/normal-range.js';
import type { EvaluatedStudy } from '../evaluate-study.js';
import { resultsOf } from '../matrix/matrix-context.js';
import type { MatrixValidation } from '../matrix/validate-matrix.js';
import type { ScatterOfResults } from '../result-covariance/scatter-of-results.js';
import { lowestReportedOf } from './blank-controls.js';
import { remarksOnDigestions } from './digestion-flags.js';
import { notMade, type RunControl, reachOf } from './routine-result.js';

/**
 * Samples digested more than once: the range of their results against the critical range of so many, relative to their mean; below
 * the lowest content to be reported relative to that, for the scatter of small contents does not shrink with them. Results of
 * several days may differ by the day's part as well. Where fewer than two of those made have a value, the control is not made; the
 * flags of the result tell why and hold it where the plan asks for more.
 *
 * @param records of the run, with the digestions that have no result
 * @see ISO 5725-6:1994, 4.1.4 (critical range; clause from memory)
 */
export function duplicateControls(
  run: EvaluatedStudy,
  validation: MatrixValidation,
  scatter: ScatterOfResults,
  records: StudyRecords,
): RunControl[] {
  const { plan, digestions } = records;
  const samples = [...new Set(digestions.filter((d) => d.kind === 'sample').map((d) => d.sample))];
  return samples.flatMap((sample) =>
    plan.analytes.flatMap((scope) => {
      const control = duplicateControl(run, scope, sample, {
        scatter,
        lowest: lowestReportedOf(validation, scope),
      });
      return control === null ? withoutDuplicate(run, scatter, records, scope, sample) : [control];
    }),
  );
}

/** Digested more than once, with fewer than two values to compare. */
function withoutDuplicate(
  run: EvaluatedStudy,
  scatter: ScatterOfResults,
  records: StudyRecords,
  { analyte }: AnalyteScope,
  sample: string,
): RunControl[] {
  const rows = records.digestions.filter((d) => d.kind === 'sample' && d.sample === sample);
  const valued = resultsOf(run, analyte, 'sample', sample).map((r) => r.digestion);
  if (rows.length < 2 || valued.length > 1 || !scatter.analytes.includes(analyte)) return [];
  const control = `${rows.length === 2 ? 'duplicates' : 'repeated digestions'} of ${sample}`;
  const why = remarksOnDigestions(records, rows, analyte, valued).join('; ');
  return [notMade({ control, about: analyte, unit: '%', holds: null }, why)];
}

function duplicateControl(
  run: EvaluatedStudy,
  { analyte, unit }: AnalyteScope,
  sample: string,
  { scatter, lowest }: { readonly scatter: ScatterOfResults; readonly lowest: number },
): RunControl | null {
  const results = resultsOf(run, analyte, 'sample', sample);
  const n = results.length;
  const at = scatter.analytes.indexOf(analyte);
  if (n < 2 || at < 0) return null;
  const values = results.map((r) => r.value);
  const severalDays = new Set(results.map((r) => r.day)).size > 1;
  const day = severalDays ? Math.max(0, scatter.days[at]![at]!) : 0;
  const factor = criticalRangeFactor(n);
  const isLow = mean(values) < lowest;
  const centre = isLow ? lowest : Math.abs(mean(values));
  if (!(centre > 0)) return null;
  const found = (100 * (Math.max(...values) - Math.min(...values))) / centre;
  const high = 100 * factor * Math.sqrt(scatter.digestions[at]![at]! + day);
  const scatterOf = severalDays
    ? 's of one result of the validation, the day’s part included'
    : 's_r of the validation';
  const relativeTo = isLow
    ? `, relative to the lowest content to be reported, ${lowest.toPrecision(3)} ${unit}`
    : '';
  return {
    control: `${n === 2 ? 'duplicates' : 'repeated digestions'} of ${sample}`,
    about: analyte,
    found,
    low: null,
    high,
    unit: '%',
    passed: found <= high,
    rule: `range of ${n === 2 ? 'two' : n} digestions, at most ${factor} · ${scatterOf}${relativeTo}`,
    holds: { kind: 'duplicates differ', reach: reachOf({ analyte, sample }) },
  };
}
