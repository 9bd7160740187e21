import type { TypedRows } from '../csv/typed-rows.js';
import type { ReadingRecord } from '../tables/readings.js';

const mostRepeats = 63;

/**
 * True where positions rise with time, each of one known solution, no reading of it comes twice and each has its internal
 * standard. Each loop over the rows stands alone in its function: that is fast.
 *
 * @param rows readings of one run
 * @param lines planned lines of each analyte, nm: the own and the second one
 * @param isKnown whether a solution is one of the study's
 */
export function arePlainReadings(
  rows: TypedRows<ReadingRecord>,
  lines: ReadonlyMap<string, readonly number[]>,
  isKnown: (solution: string) => boolean,
): boolean {
  const starts = placeStarts(rows.numbers('position'));
  if (starts === null) return false;
  const solutions = rows.codes('solution');
  return (
    areKnown(isKnown, starts, solutions, rows.values('solution')) &&
    areNumbers(rows.numbers('internalStandardIntensity')) &&
    haveOneSolution(starts, solutions) &&
    followInTime(starts, rows.numbers('time')) &&
    comeOnce(starts, rows, lines)
  );
}

/** First row of each place and, last, the number of rows; null where a position is not above the one before. */
function placeStarts(positions: Float64Array): Int32Array | null {
  const starts = new Int32Array(positions.length + 1);
  const places = fillStarts(starts, positions);
  if (places < 0) return null;
  starts[places] = positions.length;
  return starts.subarray(0, places + 1);
}

/** Number of places, −1 where a position is not above the one before. */
function fillStarts(starts: Int32Array, positions: Float64Array): number {
  let places = 0;
  for (let row = 0; row < positions.length; row++) {
    if (row > 0) {
      if (positions[row] === positions[row - 1]) continue;
      if (!(positions[row]! > positions[row - 1]!)) return -1;
    }
    starts[places++] = row;
  }
  return places;
}

function areKnown(
  isKnown: (solution: string) => boolean,
  starts: Int32Array,
  solutions: Int32Array,
  names: readonly string[],
): boolean {
  for (let place = 0; place + 1 < starts.length; place++) {
    if (!isKnown(names[solutions[starts[place]!]!]!)) return false;
  }
  return true;
}

function areNumbers(values: Float64Array): boolean {
  for (let row = 0; row < values.length; row++) if (Number.isNaN(values[row])) return false;
  return true;
}

function haveOneSolution(starts: Int32Array, solutions: Int32Array): boolean {
  for (let place = 0; place + 1 < starts.length; place++) {
    const end = starts[place + 1]!;
    const solution = solutions[starts[place]!];
    for (let row = starts[place]!; row < end; row++) if (solutions[row] !== solution) return false;
  }
  return true;
}

/** No reading of a place comes before one of an earlier place. */
function followInTime(starts: Int32Array, times: Float64Array): boolean {
  let before = Number.NEGATIVE_INFINITY;
  for (let place = 0; place + 1 < starts.length; place++) {
    const end = starts[place + 1]!;
    let latest = before;
    for (let row = starts[place]!; row < end; row++) {
      const time = times[row]!;
      if (time < before) return false;
      if (time > latest) latest = time;
    }
    before = latest;
  }
  return true;
}

/** Each reading is on a planned line, and none of a place has analyte, line and repeat of another. */
function comeOnce(
  starts: Int32Array,
  rows: TypedRows<ReadingRecord>,
  lines: ReadonlyMap<string, readonly number[]>,
): boolean {
  const planned = rows.values('analyte').map((symbol) => lines.get(symbol) ?? []);
  // NaN where there is none: it equals no line.
  const first = Float64Array.from(planned, ([line = Number.NaN]) => line);
  const second = Float64Array.from(planned, ([, line = Number.NaN]) => line);
  const keys = readingKeys(rows, first, second);
  return keys !== null && differWithin(starts, keys, planned.length * 2 * (mostRepeats + 1));
}

/** A number for each analyte, line and repeat; null where one is not planned. */
function readingKeys(
  rows: TypedRows<ReadingRecord>,
  first: Float64Array,
  second: Float64Array,
): Int32Array | null {
  const analytes = rows.codes('analyte');
  const lines = rows.numbers('lineNm');
  const repeats = rows.numbers('repeat');
  const keys = new Int32Array(analytes.length);
  for (let row = 0; row < keys.length; row++) {
    const analyte = analytes[row]!;
    const repeat = repeats[row]!;
    const isFirst = lines[row] === first[analyte];
    if ((!isFirst && lines[row] !== second[analyte]) || repeat > mostRepeats) return null;
    keys[row] = (analyte * 2 + (isFirst ? 0 : 1)) * (mostRepeats + 1) + repeat;
  }
  return keys;
}

function differWithin(starts: Int32Array, keys: Int32Array, size: number): boolean {
  // Number of the place at which a reading was last seen, from 1 on.
  const seen = new Int32Array(size);
  for (let place = 0; place + 1 < starts.length; place++) {
    const end = starts[place + 1]!;
    for (let row = starts[place]!; row < end; row++) {
      const key = keys[row]!;
      if (seen[key] === place + 1) return false;
      seen[key] = place + 1;
    }
  }
  return true;
}
