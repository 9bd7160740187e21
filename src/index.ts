/** The one door for notebooks. */
export { describeIssue, InputError, MeltbookError, type RecordIssue, RecordsError } from './errors.js';
// Seeing things in a notebook.
export { type Shown, show } from './notebook/display.js';
// Reports.
export {
  type EvidenceDossier,
  equipmentChangeDossier,
  evidenceDossier,
  planDossier,
  validationDossier,
} from './notebook/dossier.js';
// Studies: from a folder of records to what it shows.
export { type OpenedPlan, type OpenedStudy, openPlan, openStudy } from './notebook/open-study.js';
export { saveReport } from './notebook/save-report.js';
export { showSection } from './notebook/show-section.js';
export type { ReportDocument, Section, Table } from './report/document.js';
export { type EquipmentChange, equipmentChange } from './studies/equipment-change.js';
export { evaluateStudy } from './studies/evaluate-study.js';
export { type MatrixValidation, validateMatrix } from './studies/matrix/validate-matrix.js';
export { planValidation, type ValidationPlan } from './studies/planning/plan-validation.js';
export { studyCovariance } from './studies/result-covariance/study-covariance.js';
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
// Uncertainty.
export type { Correlation, Distribution, InputQuantity, SourceKind } from './uncertainty/input-quantity.js';
export type { MeasurementModel, ModelEquation } from './uncertainty/measurement-model.js';
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
