import { mean } from '../../statistics/descriptive/mean.js';
import type { EvaluatedStudy } from '../evaluate-study.js';
import { resultsOf } from '../matrix/matrix-context.js';
import type { ScatterOfResults } from '../result-covariance/scatter-of-results.js';
import { type RunControl, reachOf } from './routine-result.js';

/** Factor of the standard deviation of one result that two results on one day may differ by: 1.96·√2, as it is quoted. */
export const duplicateFactor = 2.8;

/** Samples digested twice: their difference against 2.8 standard deviations of one result, the day's part left out on one day. */
export function duplicateControls(run: EvaluatedStudy, scatter: ScatterOfResults): RunControl[] {
  return duplicateSamples(run).flatMap((sample) =>
    run.index.records.plan.analytes.flatMap(({ analyte }) => {
      const values = resultsOf(run, analyte, 'sample', sample).map((r) => r.value);
      const at = scatter.analytes.indexOf(analyte);
      if (values.length < 2 || at < 0) return [];
      const high = 100 * duplicateFactor * Math.sqrt(scatter.digestions[at]![at]!);
      const found = (100 * (Math.max(...values) - Math.min(...values))) / Math.abs(mean(values));
      return [
        {
          control: `duplicates of ${sample}`,
          about: analyte,
          found,
          low: null,
          high,
          unit: '%',
          passed: found <= high,
          rule: `range of two digestions, at most ${duplicateFactor} · s_r of the validation`,
          holds: { kind: 'duplicates differ', reach: reachOf({ analyte, sample }) },
        },
      ];
    }),
  );
}

function duplicateSamples(run: EvaluatedStudy): string[] {
  const counts = new Map<string, number>();
  for (const { kind, sample } of run.index.records.digestions) {
    if (kind === 'sample') counts.set(sample, (counts.get(sample) ?? 0) + 1);
  }
  return [...counts].flatMap(([sample, n]) => (n === 2 ? [sample] : []));
}
