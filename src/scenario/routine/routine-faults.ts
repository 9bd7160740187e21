import type { DigestionRecord } from '../../records/tables/digestions.js';
import type { ReadingRecord } from '../../records/tables/readings.js';

/** What was made to go wrong in the routine run, by sample; each fault is to be flagged, none averaged away. */
export const plantedFaults = {
  meltNotClear: 'RS-07',
  residue: 'RS-12',
  noDensity: 'RS-15',
  noTare: 'RS-19',
  beyondRange: 'RS-23',
  belowLimit: 'RS-28',
  secondLineDiffers: 'RS-31',
  outsideSpecification: 'RS-34',
  /** Hafnium drifts beyond its limit before the last check solution. */
  drift: { analyte: 'Hf', factor: 1.075 },
  /** The last procedure blank holds titanium above the limit of quantification. */
  dirtyBlank: { analyte: 'Ti', addedMg: 0.03 },
} as const;

/** The digestion's row with what the operator noted or forgot. */
export function withRecordFault(record: DigestionRecord): DigestionRecord {
  if (record.kind !== 'sample') return record;
  if (record.sample === plantedFaults.meltNotClear) {
    return { ...record, melt: 'not clear', remark: 'melt opaque at the rim' };
  }
  if (record.sample === plantedFaults.residue)
    return { ...record, solution: 'residue', remark: 'white specks' };
  if (record.sample === plantedFaults.noDensity) return { ...record, densityGPerML: null };
  if (record.sample === plantedFaults.noTare)
    return { ...record, vesselEmptyG: null, remark: 'tare not saved' };
  return record;
}

/** Readings with the fault of one line: an overlap on the second iron line of one sample, and drift of hafnium at the end. */
export function withReadingFaults(
  readings: readonly ReadingRecord[],
  digestionOfSecondLine: string,
  secondLineNm: number,
): ReadingRecord[] {
  const { analyte, factor } = plantedFaults.drift;
  const last = Math.max(...readings.map((r) => r.position));
  const from = last - 9;
  return readings.map((r) => {
    if (r.solution === digestionOfSecondLine && r.lineNm === secondLineNm) {
      return { ...r, intensity: r.intensity * 1.09 };
    }
    if (r.analyte !== analyte || r.position <= from) return r;
    return { ...r, intensity: r.intensity * (1 + ((factor - 1) * (r.position - from)) / (last - from)) };
  });
}
