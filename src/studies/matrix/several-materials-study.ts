import { meanOverDays } from '../../validation/mean-over-days.js';
import {
  type MaterialPoint,
  type SeveralMaterials,
  severalMaterials,
} from '../../validation/trueness/several-materials.js';
import type { Trueness } from '../../validation/trueness/trueness.js';
import type { EvaluatedStudy } from '../evaluate-study.js';
import { criterionFor, resultsOf } from './matrix-context.js';

/** Bias over the range of one analyte, with the points behind the line. */
export interface AnalyteSeveralMaterials {
  readonly analyte: string;
  readonly unit: string;
  readonly points: readonly MaterialPoint[];
  readonly regression: SeveralMaterials;
}

/** Fewer materials than this leave no degree of freedom to tell whether they agree with a line. */
const leastMaterials = 3;

/** Bias as a function of content, for every analyte that at least three reference materials of different content certify. */
export function severalMaterialsStudy(
  study: EvaluatedStudy,
  trueness: readonly Trueness[],
): AnalyteSeveralMaterials[] {
  const { plan } = study.index.records;
  return plan.analytes.flatMap(({ analyte, unit }) => {
    const points = trueness
      // A material that corrects results lies on its own line.
      .filter((t) => t.finding.analyte === analyte && t.certified.use?.recovery?.applied !== true)
      .flatMap(({ certified }) => pointOf(study, analyte, certified) ?? []);
    const contents = new Set(points.map((point) => point.certified));
    if (contents.size < leastMaterials || points.some((point) => point.certified <= 0)) return [];
    const level = points.map((point) => point.material).join(', ');
    const criterion = criterionFor(plan, 'trueness over the range', analyte, level);
    return [
      { analyte, unit, points, regression: severalMaterials(points, { analyte, level, unit, criterion }) },
    ];
  });
}

/** Null where the digestions of a material give its mean no uncertainty above 0. */
function pointOf(
  study: EvaluatedStudy,
  analyte: string,
  { material, value, standardUncertainty }: Trueness['certified'],
): MaterialPoint | null {
  const results = resultsOf(study, analyte, 'reference', material);
  const { mean, standardUncertainty: own, days } = meanOverDays(results);
  if (own === null || own === 0) return null;
  return {
    material,
    certified: value,
    certifiedStandardUncertainty: standardUncertainty,
    found: mean,
    foundStandardUncertainty: own,
    days: days.length,
    digestions: results.map((r) => r.digestion),
  };
}
