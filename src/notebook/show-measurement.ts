import { measurementSections } from '../report/sections/measurement-sections.js';
import type { MeasurementEvaluation } from '../studies/measurement/evaluate-measurement.js';
import { show } from './display.js';

/**
 * Shows in the notebook what was found for a measurement: results, model, budgets, figures.
 *
 * @throws InputError there is no notebook to show it in
 */
export function showMeasurement(evaluation: MeasurementEvaluation): void {
  show(...measurementSections(evaluation));
}
