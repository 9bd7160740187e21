import type { ReadingRecord } from '../../records/tables/readings.js';
import { randomStream } from '../../uncertainty/random-stream.js';
import { hoursBetween, timeOfDay } from '../calendar.js';
import { type Analyte, analyteDesigns, linesOf } from '../design/analytes.js';
import { trueComponents } from '../design/components.js';
import { siliconRemaining } from '../digestion-contents.js';
import { drawNormal } from '../draw.js';
import type { HiddenErrors } from '../hidden-errors.js';
import type { PumpedSolution, RunSequence } from '../run-sequence.js';

/** Counts per second of the internal standard in the standards. */
const internalStandardCounts = 400_000;
const startSeconds = 13 * 3600;
const secondsPerSolution = 150;
const secondsPerReading = 20;

/** When each sample solution was read first: the start of its ageing. Filled run by run. */
export type FirstReadings = Map<string, string>;

/** One solution at its place in a run. */
interface Place {
  readonly run: string;
  readonly position: number;
  /** Part of the run that has passed, 0 to 1. */
  readonly elapsed: number;
  /** When each repeat is read. */
  readonly times: readonly string[];
  readonly solution: PumpedSolution;
  /** How often the solution has come up in this run before. */
  readonly occurrence: number;
}

/** All readings of one calibrated run, in the order of the sequence. */
export function runReadings(
  seed: number,
  sequence: RunSequence,
  hidden: HiddenErrors,
  firstReadings: FirstReadings,
): ReadingRecord[] {
  const seen = new Map<string, number>();
  const last = sequence.solutions.length - 1;
  const lineStates = new Map<number, LineState>();
  return sequence.solutions.flatMap((solution, index) => {
    const times = repeatTimes(sequence.date, index, solution.readings);
    const start = times[0]!;
    const occurrence = seen.get(solution.solution) ?? 0;
    seen.set(solution.solution, occurrence + 1);
    if (solution.fromSample && !firstReadings.has(solution.solution))
      firstReadings.set(solution.solution, start);
    const place = {
      run: sequence.run,
      position: index + 1,
      elapsed: index / last,
      times,
      solution,
      occurrence,
    };
    const age = hoursBetween(firstReadings.get(solution.solution) ?? start, start);
    const pump = pumpState(seed, place);
    return solution.analytes.flatMap((analyte) =>
      linesOf(analyte).flatMap((lineNm) => {
        const state = lineStates.get(lineNm) ?? lineState(seed, sequence.run, analyte, lineNm);
        lineStates.set(lineNm, state);
        return lineReadings(
          seed,
          place,
          analyte,
          lineNm,
          state,
          pump,
          apparentContent(place.solution, analyte, lineNm, age, hidden),
        );
      }),
    );
  });
}

/** Content that a line sees, in mg/kg: the analyte, what interferents feign, uptake, and loss of silicon on keeping. */
function apparentContent(
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

/** Response and drift of one line in one run. */
interface LineState {
  readonly response: number;
  readonly driftAtEnd: number;
}

function lineState(seed: number, run: string, analyte: Analyte, lineNm: number): LineState {
  const label = ['readings', run, lineNm];
  return {
    response: analyteDesigns[analyte].response * (1 + drawNormal(seed, 0.03, [...label, 'response'])),
    driftAtEnd:
      drawNormal(seed, trueComponents.driftCommon, ['readings', run, 'drift']) +
      drawNormal(seed, trueComponents.driftOfLine, [...label, 'drift']),
  };
}

/** Internal-standard counts of each repeat: with and without the native part. */
interface PumpState {
  readonly dosed: readonly number[];
  readonly shown: readonly number[];
}

function pumpState(seed: number, { run, solution, occurrence }: Place): PumpState {
  const runLevel = 1 + drawNormal(seed, 0.03, ['readings', run, 'internal standard']);
  const matrix = solution.fromSample
    ? 1 +
      drawNormal(seed, trueComponents.matrixOnInternalStandard, [
        'readings',
        run,
        solution.solution,
        'matrix',
      ])
    : 1;
  const stream = randomStream(seed, 'readings', run, solution.solution, occurrence, 'flicker');
  const dosed = Array.from(
    { length: solution.readings },
    () => internalStandardCounts * runLevel * matrix * (1 + trueComponents.flicker * stream.normal()),
  );
  return { dosed, shown: dosed.map((counts) => Math.round(counts * (1 + solution.nativeInternalStandard))) };
}

function lineReadings(
  seed: number,
  place: Place,
  analyte: Analyte,
  lineNm: number,
  state: LineState,
  pump: PumpState,
  content: number,
): ReadingRecord[] {
  const { run, position, elapsed, times, solution, occurrence } = place;
  const { background, signalFloor, signalRelative } = analyteDesigns[analyte];
  const stream = randomStream(seed, 'readings', run, solution.solution, occurrence, lineNm, 'noise');
  const noise = Math.hypot(signalFloor, signalRelative * content);
  const drift = 1 + state.driftAtEnd * elapsed * elapsed;
  return pump.dosed.map((counts, index) => ({
    run,
    position,
    time: times[index]!,
    solution: solution.solution,
    analyte,
    lineNm,
    repeat: index + 1,
    intensity: Math.round(counts * state.response * drift * (background + content + noise * stream.normal())),
    internalStandardIntensity: pump.shown[index]!,
  }));
}

/** Times of the repeats of the solution at one place of a run, counted from 0. */
function repeatTimes(date: string, index: number, readings: number): string[] {
  return Array.from({ length: readings }, (_, repeat) =>
    timeOfDay(date, startSeconds + index * secondsPerSolution + repeat * secondsPerReading),
  );
}
