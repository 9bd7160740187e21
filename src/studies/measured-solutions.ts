import { hoursOf } from '../records/dates.js';
import type { ReadingRecord } from '../records/tables/readings.js';
import { mean } from '../statistics/descriptive/mean.js';
import { standardDeviation } from '../statistics/descriptive/standard-deviation.js';

/** The k readings of one solution at one place of a run, on one line. */
export interface MeasuredSolution {
  readonly run: string;
  readonly position: number;
  /** Hours since 1970 began, local time. */
  readonly timeHours: number;
  readonly solution: string;
  readonly analyte: string;
  readonly lineNm: number;
  /** Ratio to the internal standard of each reading; plain intensities where none was pumped. */
  readonly ratios: readonly number[];
  readonly meanRatio: number;
  /** Standard deviation of one reading's ratio; null for a single reading. */
  readonly readingStandardDeviation: number | null;
  /** Mean intensity of the internal standard, counts/s; null where none was pumped. */
  readonly internalStandard: number | null;
}

/** Readings grouped by run, place, analyte and line, in the order of the table. */
export function measuredSolutions(readings: readonly ReadingRecord[]): MeasuredSolution[] {
  const groups = new Map<string, ReadingRecord[]>();
  for (const reading of readings) {
    const key = `${reading.run}|${reading.position}|${reading.analyte}|${reading.lineNm}`;
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [reading]);
    else group.push(reading);
  }
  return [...groups.values()].map(summarise);
}

function summarise(readings: readonly ReadingRecord[]): MeasuredSolution {
  const first = readings[0]!;
  const ratios = readings.map((r) =>
    r.internalStandardIntensity === null ? r.intensity : r.intensity / r.internalStandardIntensity,
  );
  const internal = readings.flatMap((r) =>
    r.internalStandardIntensity === null ? [] : [r.internalStandardIntensity],
  );
  return {
    run: first.run,
    position: first.position,
    timeHours: hoursOf(first.time),
    solution: first.solution,
    analyte: first.analyte,
    lineNm: first.lineNm,
    ratios,
    meanRatio: mean(ratios),
    readingStandardDeviation: ratios.length > 1 ? standardDeviation(ratios) : null,
    internalStandard: internal.length > 0 ? mean(internal) : null,
  };
}
