import { randomStream } from '../../uncertainty/random-stream.js';
import type { ResultRow } from '../../validation/result-row.js';

/** A level whose truth is known: content, and standard deviations between days and between digestions of one day. */
export interface KnownLevel {
  readonly content: number;
  readonly dayStandardDeviation: number;
  readonly digestionStandardDeviation: number;
}

/** Normal results of days × digestions about a known content. */
export function inventedDays(
  level: KnownLevel,
  days: number,
  digestionsPerDay: number,
  seed: number,
  purpose: string,
): ResultRow[] {
  const stream = randomStream(seed, 'error rates', purpose);
  return Array.from({ length: days }, (_, i) => {
    const ofDay = level.content + level.dayStandardDeviation * stream.normal();
    return Array.from({ length: digestionsPerDay }, (__, j) => ({
      key: `D-${i + 1}-${j + 1}`,
      day: `day ${String(i + 1).padStart(2, '0')}`,
      value: ofDay + level.digestionStandardDeviation * stream.normal(),
    }));
  }).flat();
}
