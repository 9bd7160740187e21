import { InputError } from '../../errors.js';
import type { PlannedRecovery } from '../../records/study.js';
import { meanOverDays } from '../../validation/mean-over-days.js';
import { recoverySignificance } from '../../validation/trueness/recovery-significance.js';
import type { StudyIndex } from '../study-index.js';
import { lastingErrors } from './lasting-errors.js';
import {
  type RecoveryExperiment,
  recoveryExperiment,
  type UncorrectedResult,
} from './recovery-experiment.js';
import { requireAgreement } from './require-agreement.js';
import { withSharedScatter } from './shared-scatter.js';
import type { StudyRecovery } from './study-recovery.js';

/**
 * Recoveries that the plan asks for, from results that no recovery corrects yet.
 *
 * @param results of the same study, of all analytes
 * @throws InputError no results of an experiment, or of one day only; a certified value that no table holds, or that does not fit
 *   the results; materials that do not agree
 * @see QUAM:2012, 7.7 and example A4 (clauses from memory); Barwick and Ellison 1999, Analyst 124, 981
 */
export function studyRecoveries(
  index: StudyIndex,
  results: readonly UncorrectedResult[],
): ReadonlyMap<string, StudyRecovery> {
  const { study, recovery = [] } = index.records.plan;
  const found = recovery.map((planned) =>
    studyRecovery(index, planned, recoveryExperiment(index, planned, results)),
  );
  return new Map(withSharedScatter(found, study).map((each) => [each.planned.analyte, each]));
}

function studyRecovery(
  { records: { plan } }: StudyIndex,
  planned: PlannedRecovery,
  experiment: RecoveryExperiment,
): StudyRecovery {
  const { analyte } = planned;
  const overDays = meanOverDays(experiment.rows);
  const { mean, standardUncertainty: observed, degreesOfFreedom: nu } = overDays;
  if (observed === null || !(observed > 0)) {
    throw new InputError(
      `recovery of ${analyte}: found ${experiment.rows.length} result(s) of ${overDays.days.length} day(s) that scatter by ${observed ?? 'nothing'}, expected results of at least 2 days`,
    );
  }
  requireAgreement(analyte, experiment.rows);
  const { reference, lasting } = lastingErrors(experiment, overDays);
  const standardUncertainty = Math.hypot(observed, reference);
  const degreesOfFreedom = (standardUncertainty / observed) ** 4 * nu;
  const significance = recoverySignificance(mean, standardUncertainty, degreesOfFreedom);
  const applied = planned.correct === 'always' || significance.significant;
  const source = `study ${plan.study}: ${experiment.rows.length} results of ${analyte} over ${overDays.days.length} days, ${experiment.heldAgainst}${applied ? '' : '; not significantly different from 1, not applied'}`;
  // What is small against the uncertainty of the mean is taken together, so that equations stay readable.
  const matters = lasting.filter((error) => Math.abs(error.effect) >= (0.1 * standardUncertainty) / mean);
  const rest = lasting.filter((error) => !matters.includes(error));
  return {
    planned,
    mean,
    standardUncertainty,
    observedStandardUncertainty: observed,
    referenceStandardUncertainty: reference,
    degreesOfFreedom,
    significance,
    applied,
    digestions: experiment.rows.map((row) => row.key),
    byDay: overDays.days,
    factor: {
      analyte,
      estimate: applied ? mean : 1,
      standardUncertainty,
      degreesOfFreedom,
      source,
      lasting: matters,
      furtherLasting: Math.hypot(...rest.map((error) => error.effect)),
    },
  };
}
