import type { InterferenceRecord } from '../../records/tables/interference.js';
import { analyteDesigns } from '../design/analytes.js';
import { recordedInterferences } from '../design/components.js';

/** Interference coefficients that the laboratory knows. */
export function interferenceRecords(): InterferenceRecord[] {
  return recordedInterferences.map((known) => ({
    analyte: known.analyte,
    lineNm: analyteDesigns[known.analyte].lineNm,
    interferent: known.interferent,
    apparentPerUnit: known.apparentPerUnit,
    standardUncertainty: known.standardUncertainty,
  }));
}
