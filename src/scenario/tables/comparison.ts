import type { ComparisonRecord } from '../../records/tables/comparison.js';
import { type Analyte, analyteDesigns, analyteNames } from '../design/analytes.js';
import { materials } from '../design/materials.js';
import { reportedForm } from '../design/oxide-form.js';
import { drawNormal } from '../draw.js';

const method = 'X-ray fluorescence, Aldersyke Laboratory';
const compared = ['ZP-1', 'ZP-2', 'ZP-3', 'ZP-4', 'ZP-5', 'QRM-1', 'QRM-2'] as const;

/** Relative standard uncertainty of the other method. */
const relativeU: Readonly<Record<Analyte, number>> = {
  Zr: 0.004,
  Si: 0.005,
  Pr: 0.006,
  Hf: 0.008,
  Al: 0.01,
  Fe: 0.01,
  Ti: 0.01,
  Ca: 0.012,
};

/** Results of another method on samples of the study, in the form and unit the study reports. */
export function comparisonRecords(seed: number): ComparisonRecord[] {
  return compared.flatMap((sample) =>
    analyteNames.map((analyte): ComparisonRecord => {
      const truth = reportedForm(analyte, materials[sample].contents[analyte]);
      const standardUncertainty = Number((truth * relativeU[analyte]).toPrecision(2));
      const error = drawNormal(seed, standardUncertainty, ['comparison', `${sample}|${analyte}`, 'value']);
      return {
        sample,
        analyte,
        method,
        value: Number((truth + error).toPrecision(4)),
        unit: analyteDesigns[analyte].unit,
        standardUncertainty,
      };
    }),
  );
}
