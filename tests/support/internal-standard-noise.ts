import type { StudyRecords } from '../../src/records/study-records.js';
import { randomStream } from '../../src/uncertainty/random-stream.js';

/** The records with noise of its own in each reading of the internal standard, the same for all lines: relative standard deviation. */
export function withInternalStandardNoise(records: StudyRecords, relative: number): StudyRecords {
  const stream = randomStream(23, 'noise of the internal standard');
  const factors = new Map<string, number>();
  const factorOf = (key: string) => {
    const known = factors.get(key) ?? 1 + relative * stream.normal();
    factors.set(key, known);
    return known;
  };
  const readings = records.readings.map((r) => {
    if (r.internalStandardIntensity === null) return r;
    const factor = factorOf(`${r.run}|${r.position}|${r.repeat}`);
    return { ...r, internalStandardIntensity: r.internalStandardIntensity * factor };
  });
  return { ...records, readings };
}
