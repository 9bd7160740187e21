import type { StudyRecords } from '../../records/study-records.js';
import { placeOf } from '../../validation/acceptance/worst-reading.js';
import type { EvaluatedStudy } from '../evaluate-study.js';
import { internalStandardStudy } from '../matrix/acceptance-study.js';
import type { MatrixValidation } from '../matrix/validate-matrix.js';
import type { ScatterOfResults } from '../result-covariance/scatter-of-results.js';
import { blankControls } from './blank-controls.js';
import { checkControls } from './check-controls.js';
import { duplicateControls } from './duplicate-controls.js';
import { materialControls } from './material-controls.js';
import { methodControls } from './method-controls.js';
import { type RunControl, reachOf } from './routine-result.js';

/**
 * Controls that decide whether a run is accepted: check solutions, internal standard, blanks against the limit of
 * quantification, reference material against the mean and scatter of the validation, duplicates, flux lot, and the plan against that of the validation.
 *
 * @param records of the run, with the digestions that have no result
 * @see ISO/IEC 17025:2017, 7.7.1
 */
export function runControls(
  run: EvaluatedStudy,
  validation: MatrixValidation,
  scatter: ScatterOfResults,
  records: StudyRecords,
): RunControl[] {
  return [
    ...checkControls(run),
    ...internalStandardControl(run),
    ...blankControls(run, validation, records),
    ...materialControls(run, validation, scatter, records),
    ...duplicateControls(run, validation, scatter, records),
    fluxLotControl(run, validation),
    ...methodControls(run, validation),
  ];
}

function internalStandardControl(run: EvaluatedStudy): RunControl[] {
  const study = internalStandardStudy(run);
  const criterion = study?.finding.criterion ?? null;
  if (study === null || criterion === null || study.finding.estimate === null) return [];
  // Blanks, standards and check solutions have no result that could be held: they are named here.
  const outside = study.failing.length === 0 ? [] : [`outside: ${study.failing.map(placeOf).join('; ')}`];
  return [
    {
      control: 'internal standard',
      about: run.index.records.plan.internalStandard.element,
      found: study.finding.estimate,
      low: criterion.lower ?? -criterion.limit,
      high: criterion.limit,
      unit: study.finding.unit,
      passed: study.failing.length === 0,
      rule: ['recovery of the solution farthest off', ...outside].join('; '),
      holds: null,
    },
  ];
}

function fluxLotControl(run: EvaluatedStudy, validation: MatrixValidation): RunControl {
  const [now, then] = [run, validation.study].map((s) => s.index.records.plan.fluxLot);
  return {
    control: 'flux lot',
    about: now!,
    found: now === then ? 0 : 1,
    low: null,
    high: 0,
    unit: 'changes',
    passed: now === then,
    rule: `the lot of the validation is ${then}; a new lot needs its own blanks and limits first`,
    holds: { kind: 'flux lot not that of the validation', reach: reachOf({}) },
  };
}
