import type { RecoveryFactor } from '../../chain/corrections/recovery-factor.js';
import type { PlannedRecovery } from '../../records/study.js';
import type { DayMean } from '../../validation/mean-over-days.js';
import type { RecoverySignificance } from '../../validation/trueness/recovery-significance.js';

/** Recovery of one analyte from a study's own results, and whether these results are corrected by it. */
export interface StudyRecovery {
  readonly planned: PlannedRecovery;
  /** Mean over days of the recoveries found, correction not applied. */
  readonly mean: number;
  /** Of the mean: scatter of the days and the values it was held against. */
  readonly standardUncertainty: number;
  readonly observedStandardUncertainty: number;
  readonly referenceStandardUncertainty: number;
  readonly degreesOfFreedom: number;
  readonly significance: RecoverySignificance;
  /** Results are divided by the mean; else by 1, with the uncertainty of the mean. */
  readonly applied: boolean;
  readonly digestions: readonly string[];
  /** Mean recovery of each day. */
  readonly byDay: readonly DayMean[];
  /** As it enters the chain. */
  readonly factor: RecoveryFactor;
}
