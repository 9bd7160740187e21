import { massOnBasis } from '../../chain/mass-on-basis.js';
import type { StudyPlan } from '../../records/study.js';
import { mean } from '../../statistics/descriptive/mean.js';
import type { Characteristic } from '../../validation/characteristic.js';
import type { Criterion } from '../../validation/finding.js';
import type { ResultRow } from '../../validation/result-row.js';
import type { DigestionResult, EvaluatedStudy } from '../evaluate-study.js';

/** The criterion of a plan for one characteristic, analyte and level: the one that names most of them counts. */
export function criterionFor(
  plan: StudyPlan,
  characteristic: Characteristic,
  analyte: string,
  level: string,
): Criterion | null {
  const fitting = plan.criteria.filter(
    (c) =>
      c.characteristic === characteristic &&
      (c.analyte === analyte || c.analyte === '*') &&
      (c.level === level || c.level === '*'),
  );
  const named = (c: { analyte: string; level: string }) =>
    (c.analyte === '*' ? 0 : 2) + (c.level === '*' ? 0 : 1);
  const best = fitting.sort((a, b) => named(b) - named(a))[0];
  if (best === undefined) return null;
  const { kind, limit, lower, unit, reason, owner } = best;
  return { kind, limit, ...(lower === undefined ? {} : { lower }), unit, reason, owner };
}

/** Results of one analyte on one sample, material or kind. */
export function resultsOf(
  study: EvaluatedStudy,
  analyte: string,
  kind: DigestionResult['kind'],
  sample: string,
): (DigestionResult & { readonly value: number })[] {
  return study.results.filter(
    (r): r is DigestionResult & { readonly value: number } =>
      r.analyte === analyte && r.kind === kind && r.sample === sample && r.value !== null,
  );
}

/** The level at whose sample an analyte has its lowest mean result, whatever the order of the plan; null where no level has results. */
export function lowestLevel(study: EvaluatedStudy, analyte: string): StudyPlan['levels'][number] | null {
  const found = study.index.records.plan.levels.flatMap((level) => {
    const results = resultsOf(study, analyte, 'sample', level.sample);
    return results.length === 0 ? [] : [{ level, content: mean(results.map((r) => r.value)) }];
  });
  return found.sort((a, b) => a.content - b.content)[0]?.level ?? null;
}

/** Whether results have a mean above 0, without which nothing can be said relative to them. */
export function hasContent(results: readonly { readonly value: number }[]): boolean {
  return results.length > 0 && mean(results.map((r) => r.value)) > 0;
}

/** Results as rows of a characteristic, with who and where they were made. */
export function resultRows(
  study: EvaluatedStudy,
  results: readonly (DigestionResult & { readonly value: number })[],
): ResultRow[] {
  return results.map((r) => {
    const row = study.index.digestions.get(r.digestion)!;
    return {
      key: r.digestion,
      day: r.day,
      value: r.value,
      operator: row.operator,
      crucible: row.crucible,
      place: row.place,
      position: row.order,
    };
  });
}

/**
 * Mass fraction in the solid, in the unit, form and basis reported, per mg of analyte in a digestion of nominal portion: the mass of
 * the portion changes to that basis as it does in the samples of the study, on the mean.
 */
export function solidPerMg(study: EvaluatedStudy, analyte: string): number {
  const found = study.results.filter((r) => r.analyte === analyte);
  const { oxide, unit, recovery } = found[0]!.observation.basis;
  const solidPerG = ((oxide?.factor ?? 1) * (unit === 'mg/kg' ? 1000 : 0.1)) / (recovery?.estimate ?? 1);
  const onBasis = found.flatMap(({ kind, observation }) =>
    kind === 'sample' ? [massOnBasis(1, observation.basis.losses)] : [],
  );
  return solidPerG / (study.index.records.plan.nominal.portionG * (onBasis.length === 0 ? 1 : mean(onBasis)));
}
