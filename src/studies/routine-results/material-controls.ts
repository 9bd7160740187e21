import { mean } from '../../statistics/descriptive/mean.js';
import type { EvaluatedStudy } from '../evaluate-study.js';
import { resultsOf } from '../matrix/matrix-context.js';
import type { MatrixValidation } from '../matrix/validate-matrix.js';
import type { ScatterOfResults } from '../result-covariance/scatter-of-results.js';
import { type RunControl, reachOf } from './routine-result.js';
import { ofRun } from './runs-of-measurement.js';

/** Reference materials of each run against their mean in the validation, ±3 of the standard deviation of the mean over days. */
export function materialControls(
  run: EvaluatedStudy,
  validation: MatrixValidation,
  scatter: ScatterOfResults,
): RunControl[] {
  const { plan, digestions } = run.index.records;
  const materials = [...new Set(digestions.filter((d) => d.kind === 'reference').map((d) => d.sample))];
  return materials.flatMap((material) =>
    plan.analytes.flatMap(({ analyte, unit }) => {
      const all = resultsOf(run, analyte, 'reference', material);
      const before = resultsOf(validation.study, analyte, 'reference', material).map((r) => r.value);
      const at = scatter.analytes.indexOf(analyte);
      if (before.length < 5 || at < 0) return [];
      const centre = mean(before);
      const oneResult = scatter.digestions[at]![at]! + Math.max(0, scatter.days[at]![at]!);
      return [...new Set(all.map((r) => r.run))].map((name): RunControl => {
        const found = all.filter((r) => r.run === name).map((r) => r.value);
        const width = 3 * centre * Math.sqrt(oneResult * (1 / found.length + 1 / before.length));
        const value = mean(found);
        return {
          control: `reference material ${material}${ofRun(run, name)}`,
          about: analyte,
          found: value,
          low: centre - width,
          high: centre + width,
          unit,
          passed: Math.abs(value - centre) <= width,
          rule: `mean of ${found.length} digestion(s) within ±3 standard deviations of the mean of ${before.length} in the validation`,
          holds: {
            kind: 'reference material outside its limits',
            reach: reachOf({ analyte, run: name }),
          },
        };
      });
    }),
  );
}
