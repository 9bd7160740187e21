import type { Calibration } from '../../chain/calibration.js';
import type { DigestionRecord } from '../../records/tables/digestions.js';
import { modelledDeviation } from '../reading-noise.js';
import type { RunReadings } from './run-readings.js';

/** Digestion of what was read at each place; none for standards and check solutions. */
export type DigestionOfPlace = readonly (DigestionRecord | undefined)[];

/** Noise of readings by sample and line, pooled over the run: see `readingUncertainty`, which gives the same figures. */
export class RunNoise {
  readonly #lines: number;
  readonly #counts: Int32Array;
  /** Standard deviation of one reading by the signal model, for each cell that was read; 0 where there is no calibration. */
  readonly #modelled: Float64Array;
  /** Group of each place: its sample. */
  readonly #groups: Int32Array;
  /** Observed over modelled standard deviation by group and line; those of all digestions but blanks come last. */
  readonly #factors: Float64Array;

  constructor(
    readings: RunReadings,
    made: DigestionOfPlace,
    calibrations: readonly (Calibration | undefined)[],
  ) {
    this.#lines = readings.scopes.length;
    this.#counts = readings.counts;
    this.#modelled = modelledDeviations(readings, calibrations);
    const { groups, whole } = samplesOf(readings, made);
    this.#groups = groups;
    const isWhole = Uint8Array.from(made, (row) => (row === undefined || row.kind === 'blank' ? 0 : 1));
    this.#factors = noiseFactors(readings, this.#modelled, groups, whole, isWhole);
  }

  /** Standard uncertainty of the mean ratio of a place, 0 where nothing was read twice. */
  ofMean(place: number, line: number): number {
    const cell = place * this.#lines + line;
    const factors = this.#factors;
    let factor = factors[this.#groups[place]! * this.#lines + line]!;
    if (Number.isNaN(factor)) factor = factors[factors.length - this.#lines + line]!;
    return Number.isNaN(factor) ? 0 : factor * (this.#modelled[cell]! / Math.sqrt(this.#counts[cell]!));
  }
}

/** Number of each place's sample, and how many samples there are. */
function samplesOf({ places }: RunReadings, made: DigestionOfPlace) {
  const samples = new Map<string, number>();
  const groups = new Int32Array(places.length);
  for (let place = 0; place < places.length; place++) {
    const name = made[place]?.sample ?? places[place]!.solution;
    const group = samples.get(name) ?? samples.size;
    if (group === samples.size) samples.set(name, group);
    groups[place] = group;
  }
  return { groups, whole: samples.size };
}

/** NaN where a group has no reading twice. */
function noiseFactors(
  { counts, squares, scopes }: RunReadings,
  modelled: Float64Array,
  groups: Int32Array,
  whole: number,
  isWhole: Uint8Array,
): Float64Array {
  const lines = scopes.length;
  const sums = new Float64Array((whole + 1) * lines);
  const degrees = new Float64Array(sums.length);
  for (let place = 0; place < groups.length; place++) {
    const from = place * lines;
    addShares(sums, degrees, groups[place]! * lines, counts, squares, modelled, from, lines);
    if (isWhole[place] === 1) addShares(sums, degrees, whole * lines, counts, squares, modelled, from, lines);
  }
  return rootsOfQuotients(sums, degrees);
}

/** Adds the lines of one place, from cell `from` on, to the sums of a group. */
function addShares(
  sums: Float64Array,
  degrees: Float64Array,
  group: number,
  counts: Int32Array,
  squares: Float64Array,
  modelled: Float64Array,
  from: number,
  lines: number,
): void {
  for (let line = 0; line < lines; line++) {
    const deviation = modelled[from + line]!;
    if (counts[from + line]! < 2 || deviation === 0) continue;
    sums[group + line]! += squares[from + line]! / (deviation * deviation);
    degrees[group + line]! += counts[from + line]! - 1;
  }
}

/** Without a degree of freedom 0/0, which is NaN. */
function rootsOfQuotients(sums: Float64Array, degrees: Float64Array): Float64Array {
  const roots = new Float64Array(sums.length);
  for (let i = 0; i < sums.length; i++) roots[i] = Math.sqrt(sums[i]! / degrees[i]!);
  return roots;
}

function modelledDeviations(
  { places, counts, means, scopes }: RunReadings,
  calibrations: readonly (Calibration | undefined)[],
): Float64Array {
  const lines = scopes.length;
  const modelled = new Float64Array(places.length * lines);
  for (let line = 0; line < lines; line++) {
    const calibration = calibrations[line];
    if (calibration === undefined) continue;
    const { signalFloorMgPerKg: floor, signalRelative: relative } = scopes[line]!;
    const signal = { floor, relative };
    for (let cell = line; cell < modelled.length; cell += lines) {
      if (counts[cell]! > 0) modelled[cell] = modelledDeviation(signal, calibration, means[cell]!);
    }
  }
  return modelled;
}
