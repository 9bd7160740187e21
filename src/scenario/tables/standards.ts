import type { StandardRecord } from '../../records/tables/standards.js';
import { type Analyte, analyteDesigns, analyteNames } from '../design/analytes.js';
import { names, nominal } from '../design/components.js';
import { checkSolutionRelativeU } from '../hidden-errors.js';

const expiry = '2027-01-31';

function standard(
  name: string,
  analyte: string,
  value: number,
  relativeU: number,
  certificate: string,
): StandardRecord {
  return {
    name,
    analyte,
    value,
    unit: 'mg/kg',
    expandedUncertainty: Number((value * relativeU).toPrecision(3)),
    coverageFactor: 2,
    certificate,
    expiry,
    preparedFrom: '',
    aliquotG: null,
    finalG: null,
  };
}

const stock = (analyte: Analyte) => {
  const { stockMgPerKg, stockRelativeU } = analyteDesigns[analyte];
  return standard(`S-${analyte}`, analyte, stockMgPerKg, stockRelativeU, `QS-${analyte}-2511`);
};

const check = (analyte: Analyte) =>
  standard(
    names.checkSolution,
    analyte,
    analyteDesigns[analyte].checkContent,
    checkSolutionRelativeU,
    'second source, QS-M8-2509',
  );

/** Stocks of the calibration, the check solution from a second source, and the solution of the interferent alone. */
export function standardRecords(): StandardRecord[] {
  return [
    ...analyteNames.map(stock),
    standard(`S-${names.internalStandard}`, names.internalStandard, 10, 0.01, 'QS-Sc-2511'),
    ...analyteNames.map(check),
    standard(
      names.interferenceSolution,
      'Zr',
      nominal.checkInterferentMgPerKg,
      checkSolutionRelativeU,
      'QS-Zr-2512, each other analyte below 0.1 mg per kg of zirconium',
    ),
  ];
}
