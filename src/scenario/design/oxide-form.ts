import { type Analyte, analyteDesigns } from './analytes.js';

/** Mass of oxide per mass of element, from the standard atomic weights (CIAAW 2021, conventional values). */
const oxideFactors: Readonly<Record<Analyte, number>> = {
  Zr: 1 + (2 * 15.999) / 91.224,
  Si: 1 + (2 * 15.999) / 28.085,
  Pr: 1 + (11 * 15.999) / (6 * 140.90766),
  Hf: 1 + (2 * 15.999) / 178.486,
  Al: 1 + (3 * 15.999) / (2 * 26.9815384),
  Fe: 1 + (3 * 15.999) / (2 * 55.845),
  Ti: 1 + (2 * 15.999) / 47.867,
  Ca: 1 + 15.999 / 40.078,
};

/** Mass fraction of an element, mg/kg, in the form and unit the study reports it in. */
export function reportedForm(analyte: Analyte, elementMgPerKg: number): number {
  const oxideMgPerKg = elementMgPerKg * oxideFactors[analyte];
  return analyteDesigns[analyte].unit === 'g/100 g' ? oxideMgPerKg / 10_000 : oxideMgPerKg;
}
