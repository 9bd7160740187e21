import { mean } from '../../statistics/descriptive/mean.js';
import { type SampleTrend, sampleTrend, type TrendRow } from '../../validation/stability/sample-trend.js';
import type { DigestionResult, EvaluatedStudy } from '../evaluate-study.js';
import { criterionFor } from './matrix-context.js';

/** Trend of one analyte along the sequence with the points behind it. */
export interface AnalyteTrend {
  readonly trend: SampleTrend;
  /** Each result relative to the mean of its own material over all runs, at its place in the run. */
  readonly rows: readonly TrendRow[];
}

type ValuedResult = DigestionResult & { readonly value: number };

/** A line through fewer results than this says nothing. */
const leastOfRun = 3;

/**
 * Whether the place in the sequence matters once drift is corrected: samples and reference materials that were digested in
 * several runs, each relative to its own mean, so that different materials of one run make one line.
 */
export function trendStudy(study: EvaluatedStudy): AnalyteTrend[] {
  const { plan } = study.index.records;
  return plan.analytes.flatMap(({ analyte }) => {
    const rows = trendRows(study, analyte);
    if (rows.length === 0) return [];
    const trend = sampleTrend(rows, {
      analyte,
      level: 'sequence',
      unit: '1',
      criterion: criterionFor(plan, 'sample trend', analyte, 'sequence'),
    });
    return [{ trend, rows }];
  });
}

function trendRows(study: EvaluatedStudy, analyte: string): TrendRow[] {
  const own = study.results.filter(
    (r): r is ValuedResult =>
      r.analyte === analyte && (r.kind === 'sample' || r.kind === 'reference') && r.value !== null,
  );
  const relative = [...new Set(own.map((r) => r.sample))]
    .map((sample) => own.filter((r) => r.sample === sample))
    .flatMap((group) => {
      const level = mean(group.map((r) => r.value));
      // Below what is reported the scatter of a result hides its place.
      const { lowestReported } = study.index.scopes.get(analyte)!;
      if (new Set(group.map((r) => r.run)).size < 2 || !(level > 0) || level < lowestReported) return [];
      return group.map((r) => ({ run: r.run, position: positionOf(study, r), value: r.value / level }));
    });
  const runs = [...new Set(relative.map((r) => r.run))].filter((run) => {
    const ofRun = relative.filter((r) => r.run === run);
    const places = new Set(ofRun.map((r) => r.position));
    // Nothing is relative to a mean that the blank has pulled to 0 or below.
    return ofRun.length >= leastOfRun && places.size > 1 && mean(ofRun.map((r) => r.value)) > 0;
  });
  return relative
    .filter((r) => runs.includes(r.run))
    .map((r) => ({ ...r, key: `${r.run}|${r.position}` }))
    .sort((a, b) => (a.run === b.run ? a.position - b.position : a.run < b.run ? -1 : 1));
}

function positionOf(study: EvaluatedStudy, result: DigestionResult): number {
  const { bySolution, dilutionsOf, scopes } = study.index;
  const { lineNm } = scopes.get(result.analyte)!;
  const names = [
    result.digestion,
    ...(dilutionsOf.get(result.digestion) ?? []).map(({ dilution }) => dilution),
  ];
  const measured = names
    .flatMap((name) => bySolution.get(`${name}|${result.analyte}|${lineNm}`) ?? [])
    .find(({ run }) => run === result.run);
  return measured!.position;
}
