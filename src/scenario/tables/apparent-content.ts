import type { Analyte } from '../design/analytes.js';
import { siliconRemaining } from '../digestion-contents.js';
import type { HiddenErrors } from '../hidden-errors.js';
import type { PumpedSolution } from '../run-sequence.js';

/** Content that a line sees, in mg/kg: the analyte, what interferents feign, uptake, and loss of silicon on keeping. */
export function apparentContent(
  { contentMgPerKg, fromSample }: PumpedSolution,
  analyte: Analyte,
  lineNm: number,
  ageHours: number,
  hidden: HiddenErrors,
): number {
  let content = contentMgPerKg[analyte];
  if (analyte === 'Si' && fromSample) content *= siliconRemaining(ageHours);
  for (const overlap of hidden.interferences) {
    if (overlap.lineNm === lineNm) content += overlap.apparentPerUnit * contentMgPerKg[overlap.interferent];
  }
  return fromSample ? content * hidden.densityAndUptakeMatch : content;
}
