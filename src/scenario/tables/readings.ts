import type { ReadingRecord } from '../../records/tables/readings.js';
import { hoursBetween, timeOfDay } from '../calendar.js';
import { linesOf } from '../design/analytes.js';
import type { HiddenErrors } from '../hidden-errors.js';
import type { RunSequence } from '../run-sequence.js';
import { apparentContent } from './apparent-content.js';
import { type LineState, lineReadings, lineState, type Place, pumpState } from './line-signal.js';

const startSeconds = 13 * 3600;
const secondsPerSolution = 150;
const secondsPerReading = 20;

/** When each sample solution was read first: the start of its ageing. Filled run by run. */
export type FirstReadings = Map<string, string>;

/** All readings of one calibrated run, in the order of the sequence. */
export function runReadings(
  seed: number,
  sequence: RunSequence,
  hidden: HiddenErrors,
  firstReadings: FirstReadings,
): ReadingRecord[] {
  const states = new Map<number, LineState>();
  return placesOf(sequence).flatMap((place) => {
    const { solution } = place;
    const start = place.times[0]!;
    const first = firstReadings.get(solution.solution) ?? start;
    if (solution.fromSample) firstReadings.set(solution.solution, first);
    const age = hoursBetween(first, start);
    const pump = pumpState(seed, place);
    return solution.analytes.flatMap((analyte) =>
      linesOf(analyte).flatMap((lineNm) => {
        const state = states.get(lineNm) ?? lineState(seed, sequence.run, analyte, lineNm);
        states.set(lineNm, state);
        const content = apparentContent(solution, analyte, lineNm, age, hidden);
        return lineReadings(seed, place, state, pump, content);
      }),
    );
  });
}

function placesOf({ run, date, solutions }: RunSequence): Place[] {
  const seen = new Map<string, number>();
  return solutions.map((solution, index) => {
    const occurrence = seen.get(solution.solution) ?? 0;
    seen.set(solution.solution, occurrence + 1);
    const times = Array.from({ length: solution.readings }, (_, repeat) =>
      timeOfDay(date, startSeconds + index * secondsPerSolution + repeat * secondsPerReading),
    );
    return { run, position: index + 1, elapsed: index / (solutions.length - 1), times, solution, occurrence };
  });
}
