import { type Calibration, calibrate, poolCalibrations } from '../../chain/calibration.js';
import { driftBetween, driftFactor, type NeighbouringChecks, neighbouringChecks } from '../../chain/drift.js';
import { InputError } from '../../errors.js';
import { planSolutions } from '../../records/checks/plan-solutions.js';
import type { CalibrationRecord } from '../../records/tables/calibration.js';
import type { DigestionRecord } from '../../records/tables/digestions.js';
import { modelledDeviation } from '../reading-noise.js';
import type { RunReadings } from './run-readings.js';
import { digestionOf, type StreamContext } from './stream-context.js';

/** Signals of every digestion of a run on every analyte's own line; a cell is `digestion · lines + line`. */
export interface RunSignals {
  readonly digestions: readonly DigestionRecord[];
  /** By line; none where the run has no standards of the analyte. */
  readonly calibrations: readonly (Calibration | undefined)[];
  /** Place that was read, −1 where none was. */
  readonly places: Int32Array;
  /** Of the place read: 0 none, 1 the digestion's own solution, 2 a dilution. */
  readonly placeKinds: Uint8Array;
  readonly ratios: Float64Array;
  readonly ratioUncertainties: Float64Array;
  readonly drifts: Float64Array;
  readonly driftUncertainties: Float64Array;
}

/** @throws InputError a solution of the run that is no digestion, dilution, standard or check; a calibration without fit */
export function runSignals(context: StreamContext, readings: RunReadings): RunSignals {
  const lines = readings.scopes.length;
  const made = readings.places.map(({ solution }) => digestionOf(context, solution));
  const candidates = candidatesByDigestion(context, readings, made);
  const digestions = [...candidates.keys()];
  const cells = digestions.length * lines;
  const signals = {
    digestions,
    calibrations: calibrationsOf(context, readings),
    places: new Int32Array(cells).fill(-1),
    placeKinds: new Uint8Array(cells),
    ratios: new Float64Array(cells),
    ratioUncertainties: new Float64Array(cells),
    drifts: new Float64Array(cells).fill(1),
    driftUncertainties: new Float64Array(cells),
  };
  const noise = readingNoise(readings, made, signals.calibrations);
  const checks = checksOf(context, readings, noise);
  digestions.forEach((digestion, d) => {
    const own = candidates.get(digestion)!;
    for (let line = 0; line < lines; line++) {
      const place = placeOf(readings, own, line);
      if (place < 0) continue;
      const cell = d * lines + line;
      signals.placeKinds[cell] = readings.places[place]!.solution === digestion.digestion ? 1 : 2;
      const mean = readings.means[place * lines + line]!;
      signals.places[cell] = place;
      signals.ratios[cell] = mean;
      signals.ratioUncertainties[cell] = noise.ofMean(place, line);
      const check = checks[line]!;
      if (check === null) continue;
      const drift = driftBetween(check.ratios, check.neighbours[place]!, check.standardUncertainty);
      signals.drifts[cell] = drift.factor;
      signals.driftUncertainties[cell] = drift.standardUncertainty;
    }
  });
  return signals;
}

/** Digestion of what was read at each place; none for standards and check solutions. */
type DigestionOfPlace = readonly (DigestionRecord | undefined)[];

/** Places where a digestion's own solution and where its dilutions were read, each in order of time. */
interface Candidates {
  readonly own: readonly number[];
  readonly diluted: readonly number[];
}

function candidatesByDigestion(
  context: StreamContext,
  { run, places }: RunReadings,
  made: DigestionOfPlace,
): ReadonlyMap<DigestionRecord, Candidates> {
  const bySolution = new Map<string, number[]>();
  const inTime = (a: number, b: number) =>
    places[a]!.milliseconds - places[b]!.milliseconds || places[a]!.position - places[b]!.position;
  const order = places.map((_, i) => i).sort(inTime);
  for (const place of order) {
    const { solution } = places[place]!;
    const known = bySolution.get(solution);
    if (known === undefined) bySolution.set(solution, [place]);
    else known.push(place);
  }
  const standards = new Set(context.calibrationOf.get(run)?.map((row) => row.solution));
  const { additions } = context;
  const others = planSolutions(context.records.plan);
  const found = new Map<DigestionRecord, Candidates>();
  for (const [place, { solution }] of places.entries()) {
    const digestion = made[place];
    if (digestion === undefined) {
      if (standards.has(solution) || others.includes(solution) || additions.has(solution)) continue;
      throw new InputError(
        `run ${run}: found readings of ${solution}, expected a digestion, a dilution, a standard, a standard addition or a check solution`,
      );
    }
    if (found.has(digestion)) continue;
    const dilutions = context.index.dilutionsOf.get(digestion.digestion) ?? [];
    found.set(digestion, {
      own: bySolution.get(digestion.digestion) ?? [],
      diluted: dilutions.flatMap((row) => bySolution.get(row.dilution) ?? []).sort(inTime),
    });
  }
  return found;
}

/** The place an analyte is taken from: the solution it is to be measured in, else the other one. */
function placeOf(readings: RunReadings, { own, diluted }: Candidates, line: number): number {
  const wantsDilution = readings.scopes[line]!.measuredIn === 'dilution';
  const wanted = firstRead(readings, wantsDilution ? diluted : own, line);
  return wanted >= 0 ? wanted : firstRead(readings, wantsDilution ? own : diluted, line);
}

function firstRead({ counts, scopes }: RunReadings, places: readonly number[], line: number): number {
  for (const place of places) if (counts[place * scopes.length + line]! > 0) return place;
  return -1;
}

/** Noise of readings by sample and line, pooled over the run: see `readingUncertainty`, which gives the same figures. */
interface Noise {
  /** Standard uncertainty of the mean ratio of a place. */
  ofMean(place: number, line: number): number;
}

function readingNoise(
  readings: RunReadings,
  made: DigestionOfPlace,
  calibrations: readonly (Calibration | undefined)[],
): Noise {
  const { places, counts, squares } = readings;
  const lines = readings.scopes.length;
  const samples = new Map<string, number>();
  const sampleOf = new Int32Array(places.length);
  places.forEach(({ solution }, place) => {
    const name = made[place]?.sample ?? solution;
    if (!samples.has(name)) samples.set(name, samples.size);
    sampleOf[place] = samples.get(name)!;
  });
  // Sums by sample and line; those of all digestions but blanks come last.
  const whole = samples.size;
  const sums = new Float64Array((whole + 1) * lines);
  const degrees = new Float64Array((whole + 1) * lines);
  const modelled = modelledDeviations(readings, calibrations);
  for (let place = 0; place < places.length; place++) {
    const kind = made[place]?.kind;
    for (let line = 0; line < lines; line++) {
      const cell = place * lines + line;
      if (counts[cell]! < 2 || modelled[cell] === 0) continue;
      const share = squares[cell]! / modelled[cell]! ** 2;
      add(sampleOf[place]! * lines + line, share, counts[cell]! - 1);
      if (kind !== undefined && kind !== 'blank') add(whole * lines + line, share, counts[cell]! - 1);
    }
  }
  return {
    ofMean(place, line) {
      const own = sampleOf[place]! * lines + line;
      const group = degrees[own]! > 0 ? own : whole * lines + line;
      const cell = place * lines + line;
      return degrees[group]! > 0
        ? Math.sqrt(sums[group]! / degrees[group]!) * (modelled[cell]! / Math.sqrt(counts[cell]!))
        : 0;
    },
  };

  function add(group: number, share: number, nu: number): void {
    sums[group]! += share;
    degrees[group]! += nu;
  }
}

/** Standard deviation of one reading by the signal model, for each cell that was read; 0 where there is no calibration. */
function modelledDeviations(
  { places, counts, means, scopes }: RunReadings,
  calibrations: readonly (Calibration | undefined)[],
): Float64Array {
  const modelled = new Float64Array(places.length * scopes.length);
  scopes.forEach(({ signalFloorMgPerKg: floor, signalRelative: relative }, line) => {
    const calibration = calibrations[line];
    if (calibration === undefined) return;
    for (let cell = line; cell < modelled.length; cell += scopes.length)
      if (counts[cell]! > 0)
        modelled[cell] = modelledDeviation({ floor, relative }, calibration, means[cell]!);
  });
  return modelled;
}

/** Check solutions of one line in order of place. */
interface Checks {
  readonly ratios: readonly number[];
  /** Standard uncertainty of one check's mean ratio. */
  readonly standardUncertainty: number;
  /** For each place of the run: its neighbours among the checks. */
  readonly neighbours: readonly NeighbouringChecks[];
}

/** By line; null where it was read in no check solution. */
function checksOf(context: StreamContext, readings: RunReadings, noise: Noise): readonly (Checks | null)[] {
  const lines = readings.scopes.length;
  const all = readings.places
    .map((_, place) => place)
    .filter((place) => readings.places[place]!.solution === context.records.plan.driftCheckSolution)
    .sort((a, b) => readings.places[a]!.position - readings.places[b]!.position);
  const neighboursOf = new Map<string, readonly NeighbouringChecks[]>();
  return readings.scopes.map((_, line) => {
    const places = all.filter((place) => readings.counts[place * lines + line]! > 0);
    const [first] = places;
    if (first === undefined) return null;
    const positions = places.map((place) => readings.places[place]!.position);
    const ratios = places.map((place) => readings.means[place * lines + line]!);
    const standardUncertainty = noise.ofMean(first, line);
    // Judges the checks themselves, once for all places.
    driftFactor(positions, ratios, standardUncertainty, positions[0]!);
    const key = positions.join();
    const neighbours =
      neighboursOf.get(key) ?? readings.places.map(({ position }) => neighbouringChecks(positions, position));
    neighboursOf.set(key, neighbours);
    return { ratios, standardUncertainty, neighbours };
  });
}

function calibrationsOf(context: StreamContext, readings: RunReadings): (Calibration | undefined)[] {
  const { run, places, scopes, counts, means } = readings;
  const contents = new Map<string, Map<string, CalibrationRecord>>();
  for (const row of context.calibrationOf.get(run) ?? []) {
    const ofSolution = contents.get(row.solution) ?? new Map<string, CalibrationRecord>();
    contents.set(row.solution, ofSolution.set(row.analyte, row));
  }
  const standards = places.flatMap(({ solution }, place) => {
    const rows = contents.get(solution);
    return rows === undefined ? [] : [{ solution, place, rows }];
  });
  const { basis } = context.records.plan.calibration;
  return scopes.map((scope, line) => {
    const points = standards.flatMap(({ solution, place, rows }) => {
      const cell = place * scopes.length + line;
      const row = counts[cell]! > 0 ? rows.get(scope.analyte) : undefined;
      if (row === undefined) return [];
      const content = basis === 'mg/kg' ? row.massFractionMgPerKg : row.concentrationMgPerL;
      if (content === null) {
        throw new InputError(
          `calibration of ${scope.analyte}, run ${run}, solution ${solution}: expected a content in ${basis}`,
        );
      }
      return [{ solution, content, preparationUncertainty: row.standardUncertainty, ratio: means[cell]! }];
    });
    if (points.length === 0) return undefined;
    const signal = { floor: scope.signalFloorMgPerKg, relative: scope.signalRelative };
    return poolCalibrations([calibrate(run, scope.analyte, scope.lineNm, points, signal)])[0];
  });
}
