import type { Calibration } from '../../chain/calibration.js';
import { driftBetween, type NeighbouringChecks, neighbouringChecks } from '../../chain/drift.js';
import { InputError } from '../../errors.js';
import { planSolutions } from '../../records/checks/plan-solutions.js';
import type { DigestionRecord } from '../../records/tables/digestions.js';
import { driftOfRun } from '../drift-of-run.js';
import { calibrateRun } from './calibrate-run.js';
import { type DigestionOfPlace, RunNoise } from './run-noise.js';
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
  const made = digestionsOfPlaces(context, readings);
  const candidates = candidatesByDigestion(context, readings, made);
  const digestions = [...candidates.keys()];
  const cells = digestions.length * lines;
  const signals = {
    digestions,
    calibrations: calibrateRun(context, readings),
    places: new Int32Array(cells).fill(-1),
    placeKinds: new Uint8Array(cells),
    ratios: new Float64Array(cells),
    ratioUncertainties: new Float64Array(cells),
    drifts: new Float64Array(cells).fill(1),
    driftUncertainties: new Float64Array(cells),
  };
  const noise = new RunNoise(readings, made, signals.calibrations);
  const checks = checksOf(context, readings, noise);
  for (let d = 0; d < digestions.length; d++) {
    placeSignals(signals, readings, d, candidates.get(digestions[d]!)!);
    takeNoiseAndDrift(signals, noise, checks, d);
  }
  return signals;
}

function digestionsOfPlaces(context: StreamContext, { places }: RunReadings): DigestionOfPlace {
  const made: (DigestionRecord | undefined)[] = [];
  for (const { solution } of places) made.push(digestionOf(context, solution));
  return made;
}

/** Where the signals of digestion `d` were read, and the mean ratios there. */
function placeSignals(signals: RunSignals, readings: RunReadings, d: number, candidates: Candidates): void {
  const lines = readings.scopes.length;
  const { digestion } = signals.digestions[d]!;
  for (let line = 0; line < lines; line++) {
    const place = placeOf(readings, candidates, line);
    if (place < 0) continue;
    const cell = d * lines + line;
    signals.places[cell] = place;
    signals.placeKinds[cell] = readings.places[place]!.solution === digestion ? 1 : 2;
    signals.ratios[cell] = readings.means[place * lines + line]!;
  }
}

function takeNoiseAndDrift(
  signals: RunSignals,
  noise: RunNoise,
  checks: readonly (Checks | null)[],
  d: number,
): void {
  for (let line = 0; line < checks.length; line++) {
    const cell = d * checks.length + line;
    const place = signals.places[cell]!;
    if (place < 0) continue;
    signals.ratioUncertainties[cell] = noise.ofMean(place, line);
    const check = checks[line]!;
    if (check === null) continue;
    const drift = driftBetween(check.ratios, check.neighbours[place]!, check.standardUncertainty);
    signals.drifts[cell] = drift.factor;
    signals.driftUncertainties[cell] = drift.standardUncertainty;
  }
}

/** Places where a digestion's own solution and where its dilutions were read, each in order of time. */
interface Candidates {
  readonly own: readonly number[];
  readonly diluted: readonly number[];
}

function candidatesByDigestion(
  context: StreamContext,
  readings: RunReadings,
  made: DigestionOfPlace,
): ReadonlyMap<DigestionRecord, Candidates> {
  requireKnownSolutions(context, readings, made);
  const { places } = readings;
  const inTime = (a: number, b: number) =>
    places[a]!.milliseconds - places[b]!.milliseconds || places[a]!.position - places[b]!.position;
  const order: number[] = [];
  for (let place = 0; place < places.length; place++) order.push(place);
  order.sort(inTime);
  const found = new Map<DigestionRecord, { readonly own: number[]; readonly diluted: number[] }>();
  for (const digestion of made) {
    if (digestion !== undefined && !found.has(digestion)) found.set(digestion, { own: [], diluted: [] });
  }
  for (const place of order) {
    const digestion = made[place];
    if (digestion === undefined) continue;
    const { own, diluted } = found.get(digestion)!;
    if (places[place]!.solution === digestion.digestion) own.push(place);
    else diluted.push(place);
  }
  return found;
}

function requireKnownSolutions(
  context: StreamContext,
  { run, places }: RunReadings,
  made: DigestionOfPlace,
): void {
  const standards = new Set(context.calibrationOf.get(run)?.map((row) => row.solution));
  const others = planSolutions(context.records.plan);
  for (let place = 0; place < places.length; place++) {
    const { solution } = places[place]!;
    if (made[place] !== undefined || standards.has(solution) || others.includes(solution)) continue;
    if (context.additions.has(solution) || context.excludedSolutions.has(solution)) continue;
    throw new InputError(
      `run ${run}: found readings of ${solution}, expected a digestion, a dilution, a standard, a standard addition or a check solution`,
    );
  }
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

/** Check solutions of one line in order of place. */
interface Checks {
  readonly ratios: readonly number[];
  /** Standard uncertainty of one check's mean ratio. */
  readonly standardUncertainty: number;
  /** For each place of the run: its neighbours among the checks. */
  readonly neighbours: readonly NeighbouringChecks[];
}

/** By line; null where it was read in no check solution. */
function checksOf(
  context: StreamContext,
  readings: RunReadings,
  noise: RunNoise,
): readonly (Checks | null)[] {
  const { driftCheckSolution } = context.records.plan;
  const { places } = readings;
  const all: number[] = [];
  for (let place = 0; place < places.length; place++) {
    if (places[place]!.solution === driftCheckSolution) all.push(place);
  }
  all.sort((a, b) => places[a]!.position - places[b]!.position);
  const neighboursOf = new Map<string, readonly NeighbouringChecks[]>();
  const checks: (Checks | null)[] = [];
  for (let line = 0; line < readings.scopes.length; line++) {
    const { first, positions, ratios } = checksRead(readings, all, line);
    if (first < 0) {
      checks.push(null);
      continue;
    }
    const standardUncertainty = noise.ofMean(first, line);
    // Judges the checks themselves, once for all places.
    const { analyte, lineNm } = readings.scopes[line]!;
    const own = { run: readings.run, analyte, lineNm, positions, ratios };
    driftOfRun(own, standardUncertainty, positions[0]!);
    const key = positions.join();
    const neighbours = neighboursOf.get(key) ?? neighboursOfPlaces(readings, positions);
    neighboursOf.set(key, neighbours);
    checks.push({ ratios, standardUncertainty, neighbours });
  }
  return checks;
}

function neighboursOfPlaces({ places }: RunReadings, positions: readonly number[]): NeighbouringChecks[] {
  const neighbours: NeighbouringChecks[] = [];
  for (const { position } of places) neighbours.push(neighbouringChecks(positions, position));
  return neighbours;
}

/** Of the places of check solutions those at which a line was read; `first` is −1 where there is none. */
function checksRead({ places, scopes, counts, means }: RunReadings, all: readonly number[], line: number) {
  let first = -1;
  const positions: number[] = [];
  const ratios: number[] = [];
  for (const place of all) {
    const cell = place * scopes.length + line;
    if (counts[cell] === 0) continue;
    if (first < 0) first = place;
    positions.push(places[place]!.position);
    ratios.push(means[cell]!);
  }
  return { first, positions, ratios };
}
