import type { StockStandard } from '../chain/solution-signal.js';
import { InputError } from '../errors.js';
import type { StudyRecords } from '../records/study-records.js';

/**
 * Stock behind the calibration of one analyte in one run, with the uncertainty of its certificate and of every
 * intermediate on the way; 0 where the study has no table of standards.
 *
 * @throws InputError a stock that the table of standards does not hold
 */
export function stockOf(
  { calibration, standards }: StudyRecords,
  run: string,
  analyte: string,
): StockStandard {
  const name =
    calibration.find((c) => c.run === run && c.analyte === analyte && c.preparedFrom !== '')?.preparedFrom ??
    '';
  if (standards.length === 0) {
    return { name, relativeStandardUncertainty: 0, source: 'no certificate: there is no table of standards' };
  }
  let variance = 0;
  let current = standards.find((s) => s.name === name && s.analyte === analyte);
  if (current === undefined)
    throw new InputError(
      `calibration of ${analyte}, run ${run}: expected its stock "${name}" among the standards`,
    );
  let root = current;
  for (const seen = new Set<string>(); current !== undefined && !seen.has(current.name); ) {
    seen.add(current.name);
    root = current;
    variance += (current.expandedUncertainty / current.coverageFactor / current.value) ** 2;
    const parent: string = current.preparedFrom;
    current = parent === '' ? undefined : standards.find((s) => s.name === parent && s.analyte === analyte);
  }
  return {
    name: root.name,
    relativeStandardUncertainty: Math.sqrt(variance),
    source: `certificate ${root.certificate} of ${root.name}, expires ${root.expiry}`,
  };
}
