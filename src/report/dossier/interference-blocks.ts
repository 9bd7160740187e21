import type { MatrixValidation } from '../../studies/matrix/validate-matrix.js';
import type { Block } from '../document.js';
import { listOf, paragraph } from '../section-of.js';

/** Which interferents were read alone, which are corrected for, and which were not looked at. */
export function interferenceBlocks({ study }: MatrixValidation): Block[] {
  const { plan, interference } = study.index.records;
  const tested = plan.interferenceCheck?.interferent ?? null;
  const others = plan.analytes.map(({ analyte }) => analyte).filter((analyte) => analyte !== tested);
  const corrections = interference.map(
    (k) =>
      `${k.analyte} at ${k.lineNm} nm for ${k.interferent}, ${k.apparentPerUnit} mg/kg apparent per mg/kg, standard uncertainty ${k.standardUncertainty}`,
  );
  return [
    paragraph(
      tested === null
        ? 'No interferent was read alone.'
        : `Read alone: ${tested}, in the solution ${plan.interferenceCheck?.solution ?? ''} at ${plan.interferenceCheck?.massFractionMgPerKg ?? ''} mg/kg. Not read alone: ${others.join(', ')}. What those add to a line shows only where a second line or a reference material disagrees; constituents outside the list of analytes were not looked for.`,
    ),
    ...(corrections.length === 0
      ? [paragraph('No result is corrected for an interference.')]
      : [paragraph('Results are corrected by recorded coefficients:'), ...listOf(corrections)]),
  ];
}
