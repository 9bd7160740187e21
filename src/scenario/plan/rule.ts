import type { PlannedCriterion } from '../../records/study.js';

/** Owners of criteria. */
export const methodOwner = 'S. Varrendale, method owner';
export const customerDesk = 'P. Oakhollow, customer desk';

/** A criterion with what usually goes without saying left out. */
export type Rule = Pick<PlannedCriterion, 'characteristic' | 'kind' | 'limit' | 'unit' | 'reason'> &
  Partial<Pick<PlannedCriterion, 'analyte' | 'level' | 'lower' | 'owner'>>;

/** A criterion for every analyte and level, owned by the method owner, unless it says otherwise. */
export function rule(given: Rule): PlannedCriterion {
  return { analyte: '*', level: '*', owner: methodOwner, ...given };
}
