import { mean } from '../../statistics/descriptive/mean.js';
import { standardDeviation } from '../../statistics/descriptive/standard-deviation.js';
import { limitsOfEstimate } from '../../validation/confidence-limits.js';
import type { ConfidenceLimits } from '../../validation/finding.js';
import type { EvaluatedStudy } from '../evaluate-study.js';

/** The check solution over the sequence of one run. */
export interface RunDrift {
  readonly run: string;
  /** Ratio of each reading of the check solution to the first one of the run, in order of place. */
  readonly points: readonly { readonly position: number; readonly relative: number }[];
  /** Last against first, as a fraction; 0.01 is 1 %. */
  readonly change: number;
}

/** Drift of one analyte over the runs before it is corrected. */
export interface AnalyteDrift {
  readonly analyte: string;
  readonly runs: readonly RunDrift[];
  readonly meanChange: number;
  /** Of the mean over the runs; null for a single run. */
  readonly limits: ConfidenceLimits | null;
}

/** Change of the check solution from the first to the last place of every run, on the analyte's own line. */
export function driftStudy(study: EvaluatedStudy): AnalyteDrift[] {
  return study.index.records.plan.analytes.flatMap(({ analyte, lineNm }) => {
    const runs = [...study.index.checks.values()].flatMap((checks): RunDrift[] => {
      const [first] = checks;
      const own = first?.analyte === analyte && first.lineNm === lineNm;
      if (first === undefined || !own || checks.length < 2 || !(first.meanRatio > 0)) return [];
      const points = checks.map((c) => ({ position: c.position, relative: c.meanRatio / first.meanRatio }));
      return [{ run: first.run, points, change: points.at(-1)!.relative - 1 }];
    });
    if (runs.length === 0) return [];
    const changes = runs.map((r) => r.change);
    const meanChange = mean(changes);
    const n = changes.length;
    return [
      {
        analyte,
        runs,
        meanChange,
        limits: n > 1 ? limitsOfEstimate(meanChange, standardDeviation(changes) / Math.sqrt(n), n - 1) : null,
      },
    ];
  });
}
