import type { ReferenceRecord } from '../../records/tables/references.js';
import { type Analyte, analyteDesigns, analyteNames } from '../design/analytes.js';
import { certifiedRelativeU, materials } from '../design/materials.js';
import { reportedForm } from '../design/oxide-form.js';
import { drawNormal } from '../draw.js';

const certified = ['QRM-1', 'QRM-2', 'QRM-3'] as const;

/** Certified values, in the form and unit the study reports: the truth with the error that the certificate allows. */
export function referenceRecords(seed: number): ReferenceRecord[] {
  return certified.flatMap((material) =>
    analyteNames.map((analyte): ReferenceRecord => {
      const truth = reportedForm(analyte, materials[material].contents[analyte]);
      const expanded = significant(truth * certifiedRelativeU[analyte], 3);
      const error = drawNormal(seed, expanded / 2, [
        'references',
        `${material}|${analyte}`,
        'certified value',
      ]);
      return {
        material,
        analyte,
        value: significant(truth + error, digitsFor(analyte)),
        unit: analyteDesigns[analyte].unit,
        expandedUncertainty: expanded,
        coverageFactor: 2,
        certificate: `${material} certificate, issue 2 (invented)`,
        minimumPortionG: 0.15,
        basis: 'dry',
        expiry: '2029-12-31',
      };
    }),
  );
}

/** Digits that keep rounding far below the certificate's uncertainty. */
function digitsFor(analyte: Analyte): number {
  return certifiedRelativeU[analyte] < 0.009 ? 5 : 4;
}

function significant(value: number, digits: number): number {
  return Number(value.toPrecision(digits));
}
