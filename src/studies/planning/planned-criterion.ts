import { type MeanPlan, powerForMean } from '../../validation/planning/power-for-mean.js';
import { powerForStandardDeviation } from '../../validation/planning/power-for-standard-deviation.js';
import {
  type PrecisionProposal,
  type PrecisionWish,
  powerOfDesign,
} from '../../validation/planning/precision-design.js';

/** What decides how much work a criterion needs. */
export type PlanningAim =
  | { readonly kind: 'precision'; readonly wish: PrecisionWish }
  | { readonly kind: 'mean'; readonly counts: 'days' | 'spikes' | 'runs'; readonly mean: MeanPlan }
  | { readonly kind: 'blanks'; readonly ratio: number };

/** One criterion of the plan with what is expected of it. */
export interface PlannedAim {
  readonly characteristic: string;
  readonly analyte: string;
  readonly level: string;
  readonly unit: string;
  /** Largest value allowed and value expected, in `unit`: a standard deviation, a deviation, or a limit. */
  readonly allowed: number;
  readonly expected: number;
  readonly aim: PlanningAim;
}

/** Numbers that a validation is made of. */
export interface PlannedNumbers extends PrecisionProposal {
  readonly blanks: number;
  /** Additions at each stage. */
  readonly spikes: number;
}

/** Probability that the numbers show a criterion, if what is expected is right. */
export function powerOf(aim: PlanningAim, numbers: PlannedNumbers, digestionsPerResult: number): number {
  if (aim.kind === 'precision') return powerOfDesign(aim.wish, numbers, digestionsPerResult);
  if (aim.kind === 'blanks') return powerForStandardDeviation(aim.ratio, numbers.blanks - 1);
  return powerForMean(aim.mean, aim.counts === 'spikes' ? numbers.spikes : numbers.days);
}
