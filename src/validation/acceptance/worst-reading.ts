import type { Criterion } from '../finding.js';
import { edges } from '../verdict.js';

/** One reading's figure in the unit of the criterion. */
export interface AcceptanceReading {
  readonly key: string;
  readonly run: string;
  readonly value: number;
}

/** Readings of a rule that each one must keep. */
export interface WorstReading {
  readonly worst: AcceptanceReading;
  readonly failing: readonly AcceptanceReading[];
}

/**
 * The reading farthest beyond (or nearest to) the edges of a criterion, and all that fail it. Without a criterion it is the
 * one farthest from `target`.
 *
 * @param readings at least one
 */
export function worstReading(
  readings: readonly AcceptanceReading[],
  criterion: Criterion | null,
  target: number,
): WorstReading {
  const { low, high } = criterion === null ? { low: target, high: target } : edges(criterion);
  const excess = (value: number) => Math.max(value - high, low - value);
  const worst = readings.reduce((a, b) => (excess(b.value) > excess(a.value) ? b : a));
  const failing = criterion === null ? [] : readings.filter((reading) => excess(reading.value) > 0);
  return { worst, failing };
}

/**
 * Where a reading stands, in words; a key that begins with its run is read as `run|position`.
 *
 * @example
 * placeOf({ key: 'R-03|56', run: 'R-03', value: 1 }) // => 'run R-03, position 56'
 */
export function placeOf({ key, run }: AcceptanceReading): string {
  return key.startsWith(`${run}|`) ? `run ${run}, position ${key.slice(run.length + 1)}` : `${key} of ${run}`;
}
