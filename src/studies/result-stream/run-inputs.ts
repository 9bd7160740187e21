import {
  type Balance,
  type BalanceSpecification,
  readingErrorUncertainties,
  sensitivityUncertainty,
} from '../../chain/balance.js';
import type { Blank } from '../../chain/blank.js';
import type { Calibration } from '../../chain/calibration.js';
import { InputError } from '../../errors.js';
import type { DigestionRecord } from '../../records/tables/digestions.js';
import type { Lane, LaneInputs } from '../../uncertainty/propagation/propagate-lanes.js';
import { usable } from '../study-index.js';
import type { InputSource, ResultTemplate } from './result-template.js';
import type { StreamContext } from './stream-context.js';
import type { OpenRun } from './template-store.js';

/** Estimate and standard uncertainty of an input at each of some results. */
interface LanePair {
  readonly estimates: Lane;
  readonly standardUncertainties: Lane;
}

/** Digestions of one run whose results on one line are made alike. */
export interface Group {
  readonly make: string;
  readonly digestions: readonly number[];
}

/** Results to be worked out: of one template, at some digestions. */
export interface Task {
  readonly template: ResultTemplate;
  readonly line: number;
  readonly digestions: readonly number[];
  readonly blank: Blank | null;
}

/** Tasks worked out together: more would leave the processor's memory. */
const largestBatch = 8;

/** Inputs of the results of one run, gathered from its records. */
export class RunInputs {
  readonly #context: StreamContext;
  readonly #run: OpenRun;
  readonly #lines: number;
  readonly #kinds: readonly string[];
  /** By name, over all digestions of the run. */
  readonly #weighings = new Map<
    string,
    { readonly estimates: Float64Array; readonly uncertainties: Float64Array }
  >();
  /** Inputs that many analytes share, gathered once for each list of digestions. */
  readonly #gathered: { readonly digestions: readonly number[]; readonly pairs: Map<string, LanePair> }[] =
    [];
  readonly #groups = new Map<string, readonly Group[]>();
  readonly #linesOf = new Map<ResultTemplate, readonly number[]>();
  #memory = new Map<string, LanePair>();

  constructor(context: StreamContext, run: OpenRun) {
    this.#context = context;
    this.#run = run;
    this.#lines = run.readings.scopes.length;
    const { digestions } = run.signals;
    this.#kinds = digestions.map((row) => kindOf(context, row));
    for (const [d, row] of digestions.entries()) this.#weigh(row, d);
  }

  isWithoutPortion(d: number): boolean {
    const { crucibleG, crucibleWithPortionG } = this.#run.signals.digestions[d]!;
    return crucibleWithPortionG === crucibleG;
  }

  /** True where an amount is wanted ahead of the results: without portion, or to make up the blank. */
  isBlank(d: number): boolean {
    return this.#run.signals.digestions[d]!.kind === 'blank' || this.isWithoutPortion(d);
  }

  /**
   * Digestions with a result on a line, gathered by what tells their equations apart: kind of digestion, signals there
   * are, and which of them share a dilution. Without a reading of the line or that of an interferent there is no result.
   *
   * @param lines of the signals, the own first; −1 for an interferent that the plan does not measure
   */
  groups(lines: readonly number[]): readonly Group[] {
    const [line = -1] = lines;
    const { index, readings } = this.#run;
    const { analyte } = readings.scopes[line]!;
    if (lines.length > 1 || index.excluded.size > 0) {
      return this.#gather((d, { digestion }) =>
        usable(index, digestion, analyte) ? this.#makeOf(d, lines) : null,
      );
    }
    // Most lines were read in the same solutions as the line before.
    const { placeKinds } = this.#run.signals;
    let signature = '';
    for (let cell = line; cell < placeKinds.length; cell += this.#lines) signature += placeKinds[cell];
    const known = this.#groups.get(signature);
    if (known !== undefined) return known;
    const groups = this.#gather((d) => this.#makeOf(d, lines));
    this.#groups.set(signature, groups);
    return groups;
  }

  #gather(makeOf: (d: number, row: DigestionRecord) => string | null): readonly Group[] {
    const groups = new Map<string, { readonly make: string; readonly digestions: number[] }>();
    this.#run.signals.digestions.forEach((row, d) => {
      const make = makeOf(d, row);
      if (make === null) return;
      const group = groups.get(make);
      if (group === undefined) groups.set(make, { make, digestions: [d] });
      else group.digestions.push(d);
    });
    return [...groups.values()];
  }

  #makeOf(d: number, lines: readonly number[]): string | null {
    const { places, placeKinds, digestions } = this.#run.signals;
    let make = this.#kinds[d]!;
    const dilutions: number[] = [];
    for (const [i, line] of lines.entries()) {
      const cell = d * this.#lines + line;
      const kind = line < 0 ? 0 : placeKinds[cell]!;
      if (kind === 0) {
        if (i === 0 || digestions[d]!.kind !== 'blank') return null;
        make += '-';
      } else if (kind === 1) {
        make += '0';
      } else {
        if (!dilutions.includes(places[cell]!)) dilutions.push(places[cell]!);
        make += dilutions.indexOf(places[cell]!) + 1;
      }
    }
    return make;
  }

  /** Tasks that can be worked out together: of one shape, for the same digestions. */
  batches(tasks: readonly Task[]): readonly (readonly Task[])[] {
    const batches = new Map<number, Task[]>();
    const full: Task[][] = [];
    for (const task of tasks) {
      const key = this.#placeOf(task.digestions) * 65_536 + task.template.shape;
      const batch = batches.get(key);
      if (batch === undefined) batches.set(key, [task]);
      else if (batch.push(task) === largestBatch) {
        full.push(batch);
        batches.delete(key);
      }
    }
    return [...full, ...batches.values()];
  }

  /** Inputs of a batch: first all digestions of its first task, then those of the next. */
  lanes(tasks: readonly Task[]): LaneInputs {
    const [{ template, digestions }] = tasks as readonly [Task];
    this.#memory = this.#gathered[this.#placeOf(digestions)]!.pairs;
    const lines = tasks.map((task) => this.#signalLines(task.template));
    const pairs = template.sources.map((_, input) => this.#pair(tasks, input, lines));
    return {
      lanes: digestions.length * tasks.length,
      estimates: pairs.map((pair) => pair.estimates),
      standardUncertainties: pairs.map((pair, i) => (template.isExact[i] ? 0 : pair.standardUncertainties)),
      correlations: template.calibrationPairs.map(({ first, second, signal }) => ({
        first,
        second,
        coefficient: spread(
          tasks.map((_, t) => correlationOf(this.#calibration(lines[t]![signal]!))),
          digestions.length,
        ),
      })),
    };
  }

  #signalLines(template: ResultTemplate): readonly number[] {
    const known = this.#linesOf.get(template);
    if (known !== undefined) return known;
    const { scopes } = this.#run.readings;
    const lines = template.signals.map((name) => scopes.findIndex((scope) => scope.analyte === name));
    this.#linesOf.set(template, lines);
    return lines;
  }

  #placeOf(digestions: readonly number[]): number {
    const known = this.#gathered.findIndex((each) => isSameList(each.digestions, digestions));
    return known >= 0 ? known : this.#gathered.push({ digestions, pairs: new Map() }) - 1;
  }

  #pair(tasks: readonly Task[], input: number, lines: readonly (readonly number[])[]): LanePair {
    const [{ template, digestions }] = tasks as readonly [Task];
    const source = template.sources[input]!;
    const each = (pairOf: (task: Task, t: number) => readonly [estimate: number, u: number]): LanePair => {
      const found = tasks.map(pairOf);
      return {
        estimates: spread(
          found.map(([estimate]) => estimate),
          digestions.length,
        ),
        standardUncertainties: spread(
          found.map(([, u]) => u),
          digestions.length,
        ),
      };
    };
    switch (source.kind) {
      case 'constant':
        return each((task) => {
          // Templates of one shape have constants in the same places.
          const own = task.template.sources[input] as Extract<InputSource, { kind: 'constant' }>;
          return [own.estimate, own.standardUncertainty];
        });
      case 'digestion':
        return tiled([this.#weighing(source.name, digestions)], tasks.length, digestions.length);
      case 'flux':
      case 'loss':
        return tiled([this.#weighing(source.kind, digestions)], tasks.length, digestions.length);
      case 'dilution': {
        const pairs = tasks.map((task, t) => {
          const own = task.template.sources[input] as Extract<InputSource, { kind: 'dilution' }>;
          return this.#dilution(own, lines[t]![own.signal]!, digestions);
        });
        return tiled(pairs, tasks.length, digestions.length);
      }
      case 'ratio': {
        const { ratios, ratioUncertainties } = this.#run.signals;
        const read = lines.map((own) => own[source.signal]!);
        return this.#cells(ratios, ratioUncertainties, read, digestions);
      }
      case 'drift': {
        const { drifts, driftUncertainties } = this.#run.signals;
        const read = lines.map((own) => own[source.signal]!);
        return this.#cells(drifts, driftUncertainties, read, digestions);
      }
      case 'intercept':
        return each((_, t) => {
          const { intercept, varianceIntercept } = this.#calibration(lines[t]![source.signal]!);
          return [intercept, Math.sqrt(varianceIntercept)];
        });
      case 'slope':
        return each((_, t) => {
          const { slope, varianceSlope } = this.#calibration(lines[t]![source.signal]!);
          return [slope, Math.sqrt(varianceSlope)];
        });
      case 'blank mean':
        // A template with this input was made with a blank.
        return each(({ blank }) => [blank!.mean, blank!.standardDeviation / Math.sqrt(blank!.n)]);
      case 'blank deviation':
        return each(({ blank }) => [0, blank!.standardDeviation]);
    }
  }

  #calibration(line: number) {
    const calibration = this.#run.signals.calibrations[line];
    if (calibration !== undefined) return calibration;
    const { run, scopes } = this.#run.readings;
    const { analyte, lineNm } = scopes[line]!;
    throw new InputError(
      `run ${run}: found readings of ${analyte} at ${lineNm} nm, expected a calibration of it`,
    );
  }

  /** Cells of some lines at some digestions, line by line. */
  #cells(
    estimates: Float64Array,
    uncertainties: Float64Array,
    lines: readonly number[],
    digestions: readonly number[],
  ): LanePair {
    const values = new Float64Array(lines.length * digestions.length);
    const us = new Float64Array(values.length);
    let lane = 0;
    for (const line of lines) {
      for (let i = 0; i < digestions.length; i++, lane++) {
        const cell = digestions[i]! * this.#lines + line;
        values[lane] = estimates[cell]!;
        us[lane] = uncertainties[cell]!;
      }
    }
    return { estimates: values, standardUncertainties: us };
  }

  /** The same weighings serve all analytes of the digestions. */
  #weighing(name: string, digestions: readonly number[]): LanePair {
    const known = this.#memory.get(name);
    if (known !== undefined) return known;
    const { estimates, uncertainties } = this.#weighings.get(name) ?? unknownInput(name);
    const pair = {
      estimates: gathered(estimates, digestions),
      standardUncertainties: gathered(uncertainties, digestions),
    };
    this.#memory.set(name, pair);
    return pair;
  }

  #dilution(
    { dilution, name }: Extract<InputSource, { kind: 'dilution' }>,
    line: number,
    digestions: readonly number[],
  ): LanePair {
    const key = `${dilution}|${name}|${line}`;
    const known = this.#memory.get(key);
    if (known !== undefined) return known;
    const lanes = new Map<string, { readonly estimates: Float64Array; readonly us: Float64Array }>();
    digestions.forEach((d, lane) => {
      const put = (each: string, estimate: number, u: number) => {
        let own = lanes.get(each);
        if (own === undefined) {
          own = {
            estimates: new Float64Array(digestions.length),
            us: new Float64Array(digestions.length),
          };
          lanes.set(each, own);
        }
        own.estimates[lane] = estimate;
        own.us[lane] = u;
      };
      this.#dilute(put, dilution, line, d);
    });
    for (const [each, { estimates, us }] of lanes) {
      const pair = { estimates: equalised(estimates), standardUncertainties: equalised(us) };
      this.#memory.set(`${dilution}|${each}|${line}`, pair);
    }
    return this.#memory.get(key) ?? unknownInput(name);
  }

  /** Masses of one dilution by the names that the step of the chain gives them. */
  #dilute(put: Put, name: string, line: number, d: number): void {
    const row = this.#run.signals.digestions[d]!;
    const place = this.#run.signals.places[d * this.#lines + line]!;
    const record = this.#context.dilutions.get(this.#run.readings.places[place]!.solution)!;
    if (record.finalG === null) {
      throw new InputError(
        `dilution ${record.dilution}: expected a final mass in g; dilution to a volume needs a calibration in mg/L`,
      );
    }
    const balance = this.#balance(row.vesselBalance).specification;
    putReading(put, `aliquot_${name}`, balance, record.aliquotG);
    putReading(put, `aliquot_${name}0`, balance, 0);
    putReading(put, `final_${name}`, balance, record.finalG);
    putReading(put, `final_${name}0`, balance, 0);
  }

  #balance(id: string): Balance {
    const balance = this.#context.index.balances.get(id);
    if (balance === undefined)
      throw new InputError(`balance ${id}: expected a balance of the equipment register`);
    return balance;
  }

  /** Weighings of one digestion by the names that the steps of the chain give them. */
  #weigh(row: DigestionRecord, d: number): void {
    const count = this.#run.signals.digestions.length;
    const put = (name: string, estimate: number, u: number) => {
      let lane = this.#weighings.get(name);
      if (lane === undefined) {
        lane = { estimates: new Float64Array(count), uncertainties: new Float64Array(count) };
        this.#weighings.set(name, lane);
      }
      lane.estimates[d] = estimate;
      lane.uncertainties[d] = u;
    };
    const portion = this.#balance(row.portionBalance).specification;
    const vessel = this.#balance(row.vesselBalance).specification;
    putReading(put, 'cp', portion, row.crucibleWithPortionG);
    putReading(put, 'c', portion, row.crucibleG);
    putReading(put, 'vs', vessel, row.vesselWithSolutionAndCrucibleG);
    putReading(put, 'v', vessel, row.vesselEmptyG ?? Number.NaN);
    put('S_p', 1, sensitivityUncertainty(portion));
    put('S_v', 1, sensitivityUncertainty(vessel));
    put('rho_s', (row.densityGPerML ?? 1) * 1000, 0);
    put('flux', row.fluxG, 0);
    const loss = this.#context.moisture.get(row.sample);
    if (loss !== undefined) put('loss', loss.lossGPer100G / 100, loss.standardUncertaintyGPer100G / 100);
  }
}

type ReadingNames = readonly [string, string, string, string, string];

const readingNames = new Map<string, ReadingNames>();

/** Names of a reading and its errors; made once, as names that are the same text are found faster. */
function namesOf(symbol: string): ReadingNames {
  let names = readingNames.get(symbol);
  if (names === undefined) {
    names = [`m_${symbol}`, `rep_${symbol}`, `round_${symbol}`, `lin_${symbol}`, `ecc_${symbol}`];
    readingNames.set(symbol, names);
  }
  return names;
}

type Put = (name: string, estimate: number, standardUncertainty: number) => void;

/** A balance reading and its errors: the inputs of `readingErrors`, in numbers. */
function putReading(put: Put, symbol: string, balance: BalanceSpecification, loadG: number): void {
  const [mass, repeatability, rounding, linearity, eccentricity] = namesOf(symbol);
  const { rep, round, lin, ecc } = readingErrorUncertainties(balance, loadG);
  put(mass, loadG, 0);
  put(repeatability, 0, rep);
  put(rounding, 0, round);
  put(linearity, 0, lin);
  put(eccentricity, 0, ecc);
}

function kindOf(context: StreamContext, row: DigestionRecord): string {
  const isBlank = row.crucibleWithPortionG === row.crucibleG;
  const hasLoss = context.moisture.has(row.sample);
  return `${row.kind === 'blank'}|${isBlank}|${hasLoss}|${row.portionBalance === row.vesselBalance}|`;
}

function correlationOf({ varianceIntercept, varianceSlope, covariance }: Calibration): number {
  const sigma = Math.sqrt(varianceIntercept * varianceSlope);
  return sigma > 0 ? covariance / sigma : 0;
}

/** One number a task as lanes. */
function spread(numbers: readonly number[], length: number): Lane {
  const first = numbers[0]!;
  if (numbers.every((each) => each === first)) return first;
  const lane = new Float64Array(numbers.length * length);
  for (let t = 0; t < numbers.length; t++) lane.fill(numbers[t]!, t * length, (t + 1) * length);
  return lane;
}

/** Lanes of one task after the other; a single pair serves all. */
function tiled(pairs: readonly LanePair[], count: number, length: number): LanePair {
  return {
    estimates: tiledLane(
      pairs.map((pair) => pair.estimates),
      count,
      length,
    ),
    standardUncertainties: tiledLane(
      pairs.map((pair) => pair.standardUncertainties),
      count,
      length,
    ),
  };
}

function tiledLane(lanes: readonly Lane[], count: number, length: number): Lane {
  const first = lanes[0]!;
  if (count === 1 || (typeof first === 'number' && lanes.every((lane) => lane === first))) return first;
  const all = new Float64Array(count * length);
  for (let t = 0; t < count; t++) {
    const lane = lanes[t] ?? first;
    if (typeof lane === 'number') all.fill(lane, t * length, (t + 1) * length);
    else all.set(lane, t * length);
  }
  return all;
}

function unknownInput(name: string): never {
  throw new InputError(`input ${name} of a result: expected one that a run's records give`);
}

function gathered(values: Float64Array, places: readonly number[]): Lane {
  return equalised(Float64Array.from(places, (place) => values[place]!));
}

/** One number where all are the same. */
function equalised(values: Float64Array): Lane {
  const first = values[0]!;
  return values.every((value) => value === first) ? first : values;
}

function isSameList(first: readonly number[], second: readonly number[]): boolean {
  return first.length === second.length && first.every((value, i) => value === second[i]);
}
