import { oxideFactor } from '../../quantities/oxide.js';
import { type Analyte, analyteDesigns, byAnalyte } from './analytes.js';

const oxideFactors = byAnalyte((analyte) => oxideFactor(analyteDesigns[analyte].oxide).factor);

/** Mass fraction of an element, mg/kg, in the form and unit the study reports it in. */
export function reportedForm(analyte: Analyte, elementMgPerKg: number): number {
  const oxideMgPerKg = elementMgPerKg * oxideFactors[analyte];
  return analyteDesigns[analyte].unit === 'g/100 g' ? oxideMgPerKg / 10_000 : oxideMgPerKg;
}
