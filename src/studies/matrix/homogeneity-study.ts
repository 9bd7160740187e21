import type { HomogeneityRecord } from '../../records/tables/homogeneity.js';
import { mean } from '../../statistics/descriptive/mean.js';
import { scaleLimits } from '../../validation/confidence-limits.js';
import { type Homogeneity, homogeneity } from '../../validation/robustness/homogeneity.js';
import { type HomogeneityChecks, homogeneityChecks } from '../../validation/robustness/homogeneity-checks.js';
import { type MinimumPortion, minimumPortion } from '../../validation/robustness/minimum-portion.js';
import type { EvaluatedStudy } from '../evaluate-study.js';
import { criterionFor, hasContent } from './matrix-context.js';

/** Homogeneity of one sample for one analyte, with what it says of the portion. */
export interface SampleHomogeneity {
  readonly sample: string;
  readonly analyte: string;
  readonly rows: readonly HomogeneityRecord[];
  readonly homogeneity: Homogeneity;
  readonly portionG: number;
  /** Against the criterion; null without a relative criterion, as are the checks. */
  readonly minimumPortion: MinimumPortion | null;
  readonly checks: HomogeneityChecks | null;
}

/** Homogeneity of every sample and analyte of the table, where two units or more were measured, one of them twice. */
export function homogeneityStudy(study: EvaluatedStudy): SampleHomogeneity[] {
  const { plan, homogeneity: table } = study.index.records;
  const samples = [...new Set(table.map((r) => r.sample))];
  return plan.analytes.flatMap(({ analyte, unit }) =>
    samples.flatMap((sample) => {
      const rows = table.filter((r) => r.sample === sample && r.analyte === analyte);
      const containers = new Set(rows.map((r) => r.container)).size;
      if (containers < 2 || rows.length <= containers || !hasContent(rows)) return [];
      return [sampleHomogeneity(study, sample, analyte, unit, rows)];
    }),
  );
}

function sampleHomogeneity(
  study: EvaluatedStudy,
  sample: string,
  analyte: string,
  unit: string,
  rows: readonly HomogeneityRecord[],
): SampleHomogeneity {
  const criterion = criterionFor(study.index.records.plan, 'homogeneity', analyte, sample);
  const found = homogeneity(
    rows.map((r) => ({
      key: `${r.sample}|${r.container}|${r.portion}|${r.analyte}`,
      unit: r.container,
      value: r.value,
    })),
    { analyte, level: sample, unit, criterion },
  );
  const level = found.analysis.grandMean;
  const portionG = mean(rows.map((r) => r.portionG));
  const allowed = criterion === null || criterion.unit !== '%' ? null : criterion.limit / 100;
  return {
    sample,
    analyte,
    rows,
    homogeneity: found,
    portionG,
    minimumPortion:
      allowed === null
        ? null
        : minimumPortion({
            relativeHeterogeneity: found.betweenUnits / level,
            limits: scaleLimits(found.limits, 1 / level),
            portionG,
            allowedRelative: allowed,
          }),
    checks: allowed === null ? null : homogeneityChecks(found.analysis, allowed * level),
  };
}
