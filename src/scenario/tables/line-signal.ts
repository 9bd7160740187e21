import type { ReadingRecord } from '../../records/tables/readings.js';
import { randomStream } from '../../uncertainty/random-stream.js';
import { type Analyte, analyteDesigns } from '../design/analytes.js';
import { trueComponents } from '../design/components.js';
import { drawNormal } from '../draw.js';
import type { PumpedSolution } from '../run-sequence.js';

/** Counts per second of the internal standard in the standards, and relative spread of signal levels between runs. */
const internalStandardCounts = 400_000;
const levelSpread = 0.03;

/** One solution at its place in a run. */
export interface Place {
  readonly run: string;
  readonly position: number;
  /** Part of the run that has passed, 0 to 1. */
  readonly elapsed: number;
  /** When each reading is taken. */
  readonly times: readonly string[];
  readonly solution: PumpedSolution;
  /** How often the solution has come up in this run before. */
  readonly occurrence: number;
}

/** Response and drift of one line in one run. */
export interface LineState {
  readonly analyte: Analyte;
  readonly lineNm: number;
  /** Ratio to the internal standard per mg/kg. */
  readonly response: number;
  /** Relative, at the end of the run. */
  readonly drift: number;
}

/** Draws response and drift of one line in one run. */
export function lineState(seed: number, run: string, analyte: Analyte, lineNm: number): LineState {
  const label = ['readings', run, lineNm];
  return {
    analyte,
    lineNm,
    response: analyteDesigns[analyte].response * (1 + drawNormal(seed, levelSpread, [...label, 'response'])),
    drift:
      drawNormal(seed, trueComponents.driftCommon, ['readings', run, 'drift']) +
      drawNormal(seed, trueComponents.driftOfLine, [...label, 'drift']),
  };
}

/** Internal-standard counts of each reading: of the dose alone, and as shown with the native part. */
export interface PumpState {
  readonly dosed: readonly number[];
  readonly shown: readonly number[];
}

/** Draws pump and plasma at one place: all lines are detected at once, so they share it. */
export function pumpState(seed: number, { run, solution, occurrence }: Place): PumpState {
  const label = ['readings', run, solution.solution];
  const runLevel = 1 + drawNormal(seed, levelSpread, ['readings', run, 'internal standard']);
  const matrix = solution.fromSample
    ? 1 + drawNormal(seed, trueComponents.matrixOnInternalStandard, [...label, 'matrix'])
    : 1;
  const stream = randomStream(seed, ...label, occurrence, 'flicker');
  const dosed = Array.from(
    { length: solution.readings },
    () => internalStandardCounts * runLevel * matrix * (1 + trueComponents.flicker * stream.normal()),
  );
  return { dosed, shown: dosed.map((counts) => Math.round(counts * (1 + solution.nativeInternalStandard))) };
}

/** Readings of one line at one place, from the content in mg/kg that the line sees. */
export function lineReadings(
  seed: number,
  place: Place,
  line: LineState,
  pump: PumpState,
  content: number,
): ReadingRecord[] {
  const { run, position, elapsed, times, solution, occurrence } = place;
  const { analyte, lineNm } = line;
  const { background, signalFloor, signalRelative } = analyteDesigns[analyte];
  const stream = randomStream(seed, 'readings', run, solution.solution, occurrence, lineNm, 'noise');
  const noise = Math.hypot(signalFloor, signalRelative * content);
  const response = line.response * (1 + line.drift * elapsed * elapsed);
  return pump.dosed.map((counts, index) => ({
    run,
    position,
    time: times[index]!,
    solution: solution.solution,
    analyte,
    lineNm,
    repeat: index + 1,
    intensity: Math.round(counts * response * (background + content + noise * stream.normal())),
    internalStandardIntensity: pump.shown[index]!,
  }));
}
