import { InputError } from '../../errors.js';
import type { TypedRows } from '../../records/csv/typed-rows.js';
import { momentText } from '../../records/dates.js';
import type { AnalyteScope } from '../../records/study.js';
import type { ReadingRecord } from '../../records/tables/readings.js';
import { mean } from '../../statistics/descriptive/mean.js';
import { standardDeviation } from '../../statistics/descriptive/standard-deviation.js';
import type { MeasuredSolution } from '../measured-solutions.js';

/** One place of the sequence: a solution and when its first reading was taken. */
export interface Place {
  readonly solution: string;
  readonly position: number;
  /** Since 1970-01-01T00:00, local and without zone. */
  readonly milliseconds: number;
}

/**
 * Readings of one run summed up: mean and scatter of the ratios of each place on each analyte's own line. A cell is
 * `place · lines + line`; what is not read there has count 0.
 */
export interface RunReadings {
  readonly run: string;
  /** Calendar date of the first reading. */
  readonly day: string;
  readonly places: readonly Place[];
  readonly scopes: readonly AnalyteScope[];
  readonly counts: Int32Array;
  readonly means: Float64Array;
  /** Sum of squared deviations from the mean. */
  readonly squares: Float64Array;
  /** All lines that were read, each reading kept: what single results and covariances are worked out from. */
  readonly measured: () => MeasuredSolution[];
}

/**
 * Sums up the readings of one run.
 *
 * @param rows of one run only
 * @param scopes analytes of the plan; readings on other lines are kept for `measured` alone
 * @throws InputError a position at which two solutions were read
 */
export function runReadings(
  rows: TypedRows<ReadingRecord>,
  scopes: readonly AnalyteScope[],
  isExcluded?: (row: number) => boolean,
): RunReadings {
  const run = rows.values('run')[rows.codes('run')[0]!]!;
  const { places, placeOfRow } = placesOf(rows, run);
  const ratios = ratiosOf(rows.numbers('intensity'), rows.numbers('internalStandardIntensity'));
  const cells = cellsOf(placeOfRow, linesOf(rows, scopes), scopes.length);
  if (isExcluded !== undefined) leaveOut(cells, isExcluded);
  const counts = new Int32Array(places.length * scopes.length);
  const means = new Float64Array(counts.length);
  const squares = new Float64Array(counts.length);
  addUp(cells, ratios, counts, means);
  divide(means, counts);
  addSquares(cells, ratios, means, squares);
  const measured = () => measuredOf(rows, run, places, placeOfRow, ratios, isExcluded);
  const day = momentText(rows.numbers('time')[0]!).slice(0, 10);
  return { run, day, places, scopes, counts, means, squares, measured };
}

function placesOf(rows: TypedRows<ReadingRecord>, run: string) {
  const positions = rows.numbers('position');
  const solutions = rows.codes('solution');
  const names = rows.values('solution');
  const times = rows.numbers('time');
  const places: Place[] = [];
  const codes: number[] = [];
  const known = new Map<number, number>();
  const placeOfRow = new Int32Array(rows.count);
  const starts = stretches(positions, solutions);
  for (let i = 0; i + 1 < starts.length; i++) {
    const row = starts[i]!;
    const position = positions[row]!;
    const solution = solutions[row]!;
    const place = known.get(position) ?? places.length;
    if (place === places.length) {
      places.push({ solution: names[solution]!, position, milliseconds: times[row]! });
      codes.push(solution);
      known.set(position, place);
    }
    if (codes[place] !== solution) {
      throw new InputError(
        `run ${run}, position ${position}: found readings of ${names[solution]} and ${places[place]!.solution}, expected one solution`,
      );
    }
    placeOfRow.fill(place, row, starts[i + 1]);
  }
  return { places, placeOfRow };
}

/** First row of each stretch of rows with one position and one solution, and last the number of rows. */
function stretches(positions: Float64Array, solutions: Int32Array): Int32Array {
  const starts = new Int32Array(positions.length + 1);
  const count = fillStarts(starts, positions, solutions);
  starts[count] = positions.length;
  return starts.subarray(0, count + 1);
}

function fillStarts(starts: Int32Array, positions: Float64Array, solutions: Int32Array): number {
  let count = 0;
  for (let row = 0; row < positions.length; row++) {
    if (row > 0 && positions[row] === positions[row - 1] && solutions[row] === solutions[row - 1]) continue;
    starts[count++] = row;
  }
  return count;
}

/** Which analyte's own line each row was read on, −1 for other lines. */
function linesOf(rows: TypedRows<ReadingRecord>, scopes: readonly AnalyteScope[]): Int32Array {
  const lineOfAnalyte = Int32Array.from(rows.values('analyte'), (name) =>
    scopes.findIndex(({ analyte }) => analyte === name),
  );
  // NaN where the plan has no such analyte: it equals no line.
  const nmOfAnalyte = Float64Array.from(lineOfAnalyte, (line) => scopes[line]?.lineNm ?? Number.NaN);
  return ownLines(rows.codes('analyte'), rows.numbers('lineNm'), lineOfAnalyte, nmOfAnalyte);
}

function ownLines(
  analytes: Int32Array,
  wavelengths: Float64Array,
  lineOfAnalyte: Int32Array,
  nmOfAnalyte: Float64Array,
): Int32Array {
  const lines = new Int32Array(analytes.length);
  for (let row = 0; row < lines.length; row++) {
    const analyte = analytes[row]!;
    lines[row] = nmOfAnalyte[analyte] === wavelengths[row] ? lineOfAnalyte[analyte]! : -1;
  }
  return lines;
}

function ratiosOf(intensities: Float64Array, internal: Float64Array): Float64Array {
  const ratios = new Float64Array(intensities.length);
  for (let row = 0; row < ratios.length; row++) {
    ratios[row] = Number.isNaN(internal[row]) ? intensities[row]! : intensities[row]! / internal[row]!;
  }
  return ratios;
}

/** Cell that each row goes into, −1 for other lines. Each loop over the rows stands alone in its function: that is fast. */
function cellsOf(placeOfRow: Int32Array, lineOfRow: Int32Array, lines: number): Int32Array {
  const cells = new Int32Array(placeOfRow.length);
  for (let row = 0; row < cells.length; row++) {
    const line = lineOfRow[row]!;
    cells[row] = line < 0 ? -1 : placeOfRow[row]! * lines + line;
  }
  return cells;
}

function leaveOut(cells: Int32Array, isExcluded: (row: number) => boolean): void {
  for (let row = 0; row < cells.length; row++) if (isExcluded(row)) cells[row] = -1;
}

function addUp(cells: Int32Array, values: Float64Array, counts: Int32Array, sums: Float64Array): void {
  for (let row = 0; row < cells.length; row++) {
    const cell = cells[row]!;
    if (cell < 0) continue;
    counts[cell]!++;
    sums[cell]! += values[row]!;
  }
}

function divide(sums: Float64Array, counts: Int32Array): void {
  for (let cell = 0; cell < counts.length; cell++) if (counts[cell]! > 0) sums[cell]! /= counts[cell]!;
}

function addSquares(
  cells: Int32Array,
  values: Float64Array,
  means: Float64Array,
  squares: Float64Array,
): void {
  for (let row = 0; row < cells.length; row++) {
    const cell = cells[row]!;
    if (cell < 0) continue;
    const deviation = values[row]! - means[cell]!;
    squares[cell]! += deviation * deviation;
  }
}

function measuredOf(
  rows: TypedRows<ReadingRecord>,
  run: string,
  places: readonly Place[],
  placeOfRow: Int32Array,
  ratios: Float64Array,
  isExcluded: ((row: number) => boolean) | undefined,
): MeasuredSolution[] {
  const analytes = rows.codes('analyte');
  const wavelengths = rows.numbers('lineNm');
  const groups = new Map<string, number[]>();
  for (let row = 0; row < rows.count; row++) {
    if (isExcluded?.(row)) continue;
    const key = `${placeOfRow[row]}|${analytes[row]}|${wavelengths[row]}`;
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [row]);
    else group.push(row);
  }
  const internal = rows.numbers('internalStandardIntensity');
  return [...groups.values()].map((group) => {
    const first = group[0]!;
    const { solution, position, milliseconds } = places[placeOfRow[first]!]!;
    const own = group.map((row) => ratios[row]!);
    const pumped = group.map((row) => internal[row]!).filter((value) => !Number.isNaN(value));
    return {
      ...{ run, position, timeHours: milliseconds / 3_600_000, solution },
      analyte: rows.values('analyte')[analytes[first]!]!,
      lineNm: wavelengths[first]!,
      ratios: own,
      meanRatio: mean(own),
      readingStandardDeviation: own.length > 1 ? standardDeviation(own) : null,
      internalStandard: pumped.length > 0 ? mean(pumped) : null,
    };
  });
}
