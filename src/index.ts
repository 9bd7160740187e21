/** The one door for notebooks. */
export { describeIssue, InputError, MeltbookError, type RecordIssue, RecordsError } from './errors.js';
// Seeing things in a notebook.
export { type Shown, show } from './notebook/display.js';
// Reports.
export {
  chainDossier,
  type EvidenceDossier,
  equipmentChangeDossier,
  evidenceDossier,
  planDossier,
  type RoutineDossier,
  routineDossier,
  validationDossier,
} from './notebook/dossier.js';
// Measurements: from a budget file, or from a model and its inputs.
export { openBudget } from './notebook/open-budget.js';
// Studies: from a folder of records to what it shows.
export { type OpenedPlan, type OpenedStudy, openPlan, openStudy } from './notebook/open-study.js';
export { saveReport } from './notebook/save-report.js';
export { showMeasurement } from './notebook/show-measurement.js';
export { showSection } from './notebook/show-section.js';
export { readBudgetFile } from './records/budget-file.js';
// Many runs one after the other, with the readings of one held at a time.
export { type StreamStudyOptions, type StudyStream, streamStudy } from './records/stream-study.js';
export type { ReportDocument, Section, Table } from './report/document.js';
export {
  type ChainUncertainty,
  chainUncertainty,
} from './studies/chain-uncertainty/chain-uncertainty.js';
export type { HandedOnFunction } from './studies/chain-uncertainty/handed-on-function.js';
export { type EquipmentChange, equipmentChange } from './studies/equipment-change.js';
export { evaluateStudy } from './studies/evaluate-study.js';
export { type MatrixValidation, validateMatrix } from './studies/matrix/validate-matrix.js';
export type { MethodComparison } from './studies/measurement/compare-methods.js';
export {
  evaluateMeasurement,
  type Measurement,
  type MeasurementEvaluation,
  type MeasurementOptions,
  measurementOf,
  type OutputEvaluation,
} from './studies/measurement/evaluate-measurement.js';
export { planValidation, type ValidationPlan } from './studies/planning/plan-validation.js';
export { studyCovariance } from './studies/result-covariance/study-covariance.js';
export type { ResultRemark, WithoutResult } from './studies/result-stream/run-remarks.js';
export {
  type ReadWithoutResult,
  type RunResults,
  type StreamedResult,
  type StreamOptions,
  streamResults,
} from './studies/result-stream/stream-results.js';
export { type RoutineResults, routineResults } from './studies/routine-results/routine-results.js';
export type { Occurrence, RunHistory } from './studies/run-history/run-history.js';
export { type RunHistoryOptions, writeRunHistory } from './studies/run-history/write-run-history.js';
// Uncertainty.
export { type Agreement, agreementOf } from './uncertainty/agreement.js';
export type { Budget, BudgetLine } from './uncertainty/budget.js';
export type { BudgetFile } from './uncertainty/budget-file/budget-file.js';
export { budgetFileSchema } from './uncertainty/budget-file/budget-file-schema.js';
export { decodeBudgetFile } from './uncertainty/budget-file/decode-budget-file.js';
export { acceptanceLimits } from './uncertainty/conformity/acceptance-limits.js';
export { conformanceProbability } from './uncertainty/conformity/conformance-probability.js';
export { conformityStatement } from './uncertainty/conformity/conformity-statement.js';
export { globalRisk } from './uncertainty/conformity/global-risk.js';
// Covariances: means, totals and ratios of results.
export {
  meanOfResults,
  ratioOfResults,
  sumOfResults,
} from './uncertainty/correlated-results/combine-results.js';
export {
  type CorrelatedResult,
  correlationOf,
  covarianceMatrixOf,
  effectiveDegreesOfFreedomOf,
  standardUncertaintyOf,
} from './uncertainty/correlated-results/correlated-result.js';
export { coverageFactor } from './uncertainty/coverage-factor.js';
export { distributionOf } from './uncertainty/distributions/distribution-of.js';
export { groupBudget } from './uncertainty/group-budget.js';
export type { Correlation, Distribution, InputQuantity, SourceKind } from './uncertainty/input-quantity.js';
export { exactValue } from './uncertainty/inputs/exact-value.js';
export { fromCertificate } from './uncertainty/inputs/from-certificate.js';
export { fromCounts } from './uncertainty/inputs/from-counts.js';
export { fromJudgement } from './uncertainty/inputs/from-judgement.js';
export { fromLimits } from './uncertainty/inputs/from-limits.js';
export { fromRecords } from './uncertainty/inputs/from-records.js';
export { jointFromRecords } from './uncertainty/inputs/joint-from-records.js';
export { makeBudget } from './uncertainty/make-budget.js';
export type { MeasurementModel, ModelEquation } from './uncertainty/measurement-model.js';
export { type OutputQuantity, type Propagation, propagate } from './uncertainty/propagate.js';
export { numericalSensitivities } from './uncertainty/propagation/numerical-sensitivities.js';
export { type SecondOrderTerms, secondOrderTerms } from './uncertainty/propagation/second-order-terms.js';
export { reportingLine } from './uncertainty/reporting-line.js';
export {
  type AdaptiveOptions,
  type CoverageInterval,
  type Histogram,
  type NumericalStandardErrors,
  type SimulatedOutput,
  type Simulation,
  type SimulationOptions,
  simulate,
  simulateInThread,
} from './uncertainty/simulation/simulate.js';
export { uncertaintyAtLevel, uncertaintyFunction } from './uncertainty/uncertainty-at-level.js';
export { type WhatWouldItTake, whatWouldItTake } from './uncertainty/what-would-it-take.js';
