import { hoursOf } from '../dates.js';
import { quoteFound } from '../issue-list.js';
import type { ReadingRecord } from '../tables/readings.js';
import type { StudyView } from './study-view.js';

/** Readings of one place of a run, in few words. */
interface Place {
  readonly solution: string;
  earliest: ReadingRecord;
  latest: ReadingRecord;
}

/** The sequence of each run: one solution at each position, and no position read before the one ahead of it. */
export function checkSequence(view: StudyView): void {
  const runs = new Map<string, Map<number, Place>>();
  view.each('readings', (record) => {
    const places = runs.get(record.run) ?? new Map<number, Place>();
    runs.set(record.run, places);
    const place = places.get(record.position);
    if (place === undefined) {
      places.set(record.position, { solution: record.solution, earliest: record, latest: record });
      return null;
    }
    // Texts of one form: their order is the order of time.
    if (record.time < place.earliest.time) place.earliest = record;
    if (record.time > place.latest.time) place.latest = record;
    if (record.solution === place.solution) return null;
    const expected = `${quoteFound(place.solution)} as in the other readings of run ${record.run}, position ${record.position}`;
    return { code: 'position', field: 'solution', expected };
  });
  const tooEarly = new Map<ReadingRecord, Place & { position: number }>();
  for (const places of runs.values()) {
    const ordered = [...places].sort(([a], [b]) => a - b);
    for (let i = 1; i < ordered.length; i++) {
      const [position, before] = ordered[i - 1]!;
      const { earliest } = ordered[i]![1];
      if (hoursOf(earliest.time) < hoursOf(before.latest.time))
        tooEarly.set(earliest, { ...before, position });
    }
  }
  if (tooEarly.size === 0) return;
  view.each('readings', (record) => {
    const before = tooEarly.get(record);
    if (before === undefined) return null;
    const expected = `a time not before ${before.latest.time}, when position ${before.position} was read`;
    return { code: 'time order', field: 'time', expected };
  });
}
