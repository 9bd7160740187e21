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
  isExcluded: (row: number) => boolean = () => false,
): RunReadings {
  const run = rows.values('run')[rows.codes('run')[0]!]!;
  const { places, placeOfRow } = placesOf(rows, run);
  const lineOfRow = linesOf(rows, scopes);
  const ratios = ratiosOf(rows);
  const lines = scopes.length;
  const counts = new Int32Array(places.length * lines);
  const means = new Float64Array(counts.length);
  const squares = new Float64Array(counts.length);
  const cells = new Int32Array(rows.count);
  for (let row = 0; row < rows.count; row++) {
    const line = lineOfRow[row]!;
    const cell = line < 0 || isExcluded(row) ? -1 : placeOfRow[row]! * lines + line;
    cells[row] = cell;
    if (cell < 0) continue;
    counts[cell]!++;
    means[cell]! += ratios[row]!;
  }
  for (let cell = 0; cell < counts.length; cell++) if (counts[cell]! > 0) means[cell]! /= counts[cell]!;
  for (let row = 0; row < rows.count; row++) {
    const cell = cells[row]!;
    if (cell >= 0) squares[cell]! += (ratios[row]! - means[cell]!) ** 2;
  }
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
  let place = -1;
  for (let row = 0; row < rows.count; row++) {
    const position = positions[row]!;
    if (place < 0 || places[place]!.position !== position) {
      place = known.get(position) ?? -1;
      if (place < 0) {
        place = places.push({ solution: names[solutions[row]!]!, position, milliseconds: times[row]! }) - 1;
        codes.push(solutions[row]!);
        known.set(position, place);
      }
    }
    if (codes[place] !== solutions[row]) {
      throw new InputError(
        `run ${run}, position ${position}: found readings of ${names[solutions[row]!]} and ${places[place]!.solution}, expected one solution`,
      );
    }
    placeOfRow[row] = place;
  }
  return { places, placeOfRow };
}

/** Which analyte's own line each row was read on, −1 for other lines. */
function linesOf(rows: TypedRows<ReadingRecord>, scopes: readonly AnalyteScope[]): Int32Array {
  const analytes = rows.codes('analyte');
  const wavelengths = rows.numbers('lineNm');
  const ofAnalyte = rows.values('analyte').map((name) => scopes.findIndex((s) => s.analyte === name));
  const lines = new Int32Array(rows.count);
  for (let row = 0; row < rows.count; row++) {
    const line = ofAnalyte[analytes[row]!]!;
    lines[row] = line >= 0 && scopes[line]!.lineNm === wavelengths[row] ? line : -1;
  }
  return lines;
}

function ratiosOf(rows: TypedRows<ReadingRecord>): Float64Array {
  const intensities = rows.numbers('intensity');
  const internal = rows.numbers('internalStandardIntensity');
  const ratios = new Float64Array(rows.count);
  for (let row = 0; row < rows.count; row++) {
    ratios[row] = Number.isNaN(internal[row]) ? intensities[row]! : intensities[row]! / internal[row]!;
  }
  return ratios;
}

function measuredOf(
  rows: TypedRows<ReadingRecord>,
  run: string,
  places: readonly Place[],
  placeOfRow: Int32Array,
  ratios: Float64Array,
  isExcluded: (row: number) => boolean,
): MeasuredSolution[] {
  const analytes = rows.codes('analyte');
  const wavelengths = rows.numbers('lineNm');
  const groups = new Map<string, number[]>();
  for (let row = 0; row < rows.count; row++) {
    if (isExcluded(row)) continue;
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
