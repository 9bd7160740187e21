import type { BlankByCalibration } from '../../chain/blank-calibration.js';
import type { BlankQuantities } from '../../chain/blank-fragment.js';
import { InputError } from '../../errors.js';
import type { Lane, LaneInputs } from '../../uncertainty/propagation/propagate-lanes.js';
import type { LanePool } from './lane-pool.js';
import { type LineCalibration, lineCalibration } from './line-calibration.js';
import type { InputSource, ResultTemplate } from './result-template.js';
import { dilutionColumns, weighingColumns } from './run-weighings.js';
import type { StreamContext } from './stream-context.js';
import type { OpenRun } from './template-store.js';
import type { LanePair, WeighingColumns } from './weighing-columns.js';

/** Results to be worked out: of one template, at some digestions. */
export interface Task {
  readonly template: ResultTemplate;
  /** Lines of the template's signals. */
  readonly signals: readonly number[];
  readonly line: number;
  readonly digestions: readonly number[];
  /** Null with too few blanks: the template then has no quantity of a blank. */
  readonly blank: BlankOfTask | null;
}

/** A blank as its results take it in, with the calibrations of the run that its blanks were read with. */
export interface BlankOfTask extends BlankQuantities {
  readonly calibrations: readonly BlankByCalibration[];
}

/** Results worked out together: more would leave the processor's memory. */
const largestBatch = 352;

/** Dilutions of some digestions, by the names of a dilution without a name of its own. */
interface Diluted {
  /** Where each of the digestions was read. */
  readonly places: Int32Array;
  readonly columns: WeighingColumns;
}

/** Dilutions of the same digestions, and which of them each line was read in. */
interface DilutedLines {
  readonly all: Diluted[];
  readonly byLine: (Diluted | undefined)[];
}

/** Digestions that are worked out together, with what many of their analytes share. */
interface Gathering {
  readonly digestions: readonly number[];
  readonly weighings: WeighingColumns;
  readonly diluted: DilutedLines;
}

/** Inputs of the results of one run, gathered from its records. */
export class RunInputs {
  readonly #context: StreamContext;
  readonly #run: OpenRun;
  readonly #pool: LanePool;
  readonly #lines: number;
  readonly #calibrations: readonly (LineCalibration | undefined)[];
  readonly #gatherings: Gathering[] = [];

  /** @param pool arrays for the inputs of one batch: they are good until the next one is asked for */
  constructor(context: StreamContext, run: OpenRun, pool: LanePool) {
    this.#context = context;
    this.#run = run;
    this.#pool = pool;
    this.#lines = run.readings.scopes.length;
    this.#calibrations = run.signals.calibrations.map((each) => each && lineCalibration(each));
  }

  /** Tasks that can be worked out together: of one shape, for the same digestions. */
  batches(tasks: readonly Task[]): readonly (readonly Task[])[] {
    const batches = new Map<number, Task[]>();
    const full: Task[][] = [];
    for (const task of tasks) {
      const key = this.#placeOf(task.digestions) * 65_536 + task.template.shape;
      const batch = batches.get(key) ?? [];
      if (batch.push(task) === 1) batches.set(key, batch);
      if ((batch.length + 1) * task.digestions.length <= largestBatch) continue;
      full.push(batch);
      batches.delete(key);
    }
    return [...full, ...batches.values()];
  }

  /** Inputs of a batch: first all digestions of its first task, then those of the next. */
  lanes(tasks: readonly Task[]): LaneInputs {
    this.#pool.release();
    const [{ template, digestions }] = tasks as readonly [Task];
    const gathering = this.#gatherings[this.#placeOf(digestions)]!;
    const estimates: Lane[] = [];
    const standardUncertainties: Lane[] = [];
    for (let input = 0; input < template.sources.length; input++) {
      const pair = this.#pair(tasks, input, gathering);
      estimates.push(pair.estimates);
      standardUncertainties.push(template.isExact[input] ? 0 : pair.standardUncertainties);
    }
    const correlations = template.signalInputs.map(({ intercept, slope }, signal) => ({
      first: intercept,
      second: slope,
      coefficient: this.#spread(tasks, (task) => this.#calibration(task, signal).correlation),
    }));
    if (template.blankPair !== null) {
      const coefficient = this.#spread(tasks, ({ blank }) => blank!.correlation);
      correlations.push({ ...template.blankPair, coefficient });
    }
    return { lanes: digestions.length * tasks.length, estimates, standardUncertainties, correlations };
  }

  #placeOf(digestions: readonly number[]): number {
    const known = this.#gatherings.findIndex((each) => isSameList(each.digestions, digestions));
    if (known >= 0) return known;
    const rows = digestions.map((d) => this.#run.signals.digestions[d]!);
    return (
      this.#gatherings.push({
        digestions,
        weighings: weighingColumns(this.#context, rows),
        diluted: { all: [], byLine: [] },
      }) - 1
    );
  }

  #pair(tasks: readonly Task[], input: number, { weighings, diluted }: Gathering): LanePair {
    const source = tasks[0]!.template.sources[input]!;
    const { ratios, ratioUncertainties, drifts, driftUncertainties } = this.#run.signals;
    switch (source.kind) {
      case 'constant':
        return this.#each(
          tasks,
          (task) => constantOf(task, input).estimate,
          (task) => constantOf(task, input).standardUncertainty,
        );
      case 'digestion':
        return weighings.get(source.name) ?? unknownInput(source.name);
      case 'flux':
        return weighings.get(source.kind) ?? unknownInput(source.kind);
      case 'dilution':
        return this.#diluted(tasks, source, diluted);
      case 'ratio':
        return this.#cells(ratios, ratioUncertainties, tasks, source.signal);
      case 'drift':
        return this.#cells(drifts, driftUncertainties, tasks, source.signal);
      case 'intercept':
      case 'slope': {
        const { kind, signal } = source;
        return this.#each(
          tasks,
          (task) => this.#calibration(task, signal)[kind],
          (task) => this.#calibration(task, signal).standardUncertainties[kind],
        );
      }
      case 'blank': {
        // A template with this input was made with a blank of the study's rule.
        const { quantity } = source;
        return this.#each(
          tasks,
          ({ blank }) => blank![quantity]!.estimate,
          ({ blank }) => blank![quantity]!.standardUncertainty,
        );
      }
      case 'blank by calibration': {
        const { coefficient, signal, derivative } = source;
        return this.#each(
          tasks,
          (task) => effectOf(task, signal)[coefficient]![derivative],
          () => 0,
        );
      }
    }
  }

  #each(
    tasks: readonly Task[],
    estimate: (task: Task) => number,
    standardUncertainty: (task: Task) => number,
  ): LanePair {
    return {
      estimates: this.#spread(tasks, estimate),
      standardUncertainties: this.#spread(tasks, standardUncertainty),
    };
  }

  /** One number a task as lanes. */
  #spread(tasks: readonly Task[], numberOf: (task: Task) => number): Lane {
    const first = numberOf(tasks[0]!);
    let isOne = true;
    for (let t = 1; t < tasks.length && isOne; t++) isOne = numberOf(tasks[t]!) === first;
    if (isOne) return first;
    const { length } = tasks[0]!.digestions;
    const lane = this.#pool.take(tasks.length * length);
    for (let t = 0; t < tasks.length; t++) lane.fill(numberOf(tasks[t]!), t * length, (t + 1) * length);
    return lane;
  }

  #calibration({ signals }: Task, signal: number): LineCalibration {
    const line = signals[signal]!;
    const calibration = this.#calibrations[line];
    if (calibration !== undefined) return calibration;
    const { run, scopes } = this.#run.readings;
    const { analyte, lineNm } = scopes[line]!;
    throw new InputError(
      `run ${run}: found readings of ${analyte} at ${lineNm} nm, expected a calibration of it`,
    );
  }

  /** Cells of one signal of each task, task by task. */
  #cells(
    estimates: Float64Array,
    uncertainties: Float64Array,
    tasks: readonly Task[],
    signal: number,
  ): LanePair {
    const { digestions } = tasks[0]!;
    const values = this.#pool.take(tasks.length * digestions.length);
    const us = this.#pool.take(values.length);
    let lane = 0;
    for (const { signals } of tasks) {
      const line = signals[signal]!;
      for (let i = 0; i < digestions.length; i++, lane++) {
        const cell = digestions[i]! * this.#lines + line;
        values[lane] = estimates[cell]!;
        us[lane] = uncertainties[cell]!;
      }
    }
    return { estimates: values, standardUncertainties: us };
  }

  /** Masses of the dilutions in which a signal of each task was read. */
  #diluted(
    tasks: readonly Task[],
    { signal, part }: Extract<InputSource, { kind: 'dilution' }>,
    known: DilutedLines,
  ): LanePair {
    const pairs = tasks.map(({ signals, digestions }) => {
      const { columns } = this.#dilutedOn(signals[signal]!, digestions, known);
      return columns.get(part) ?? unknownInput(`${part} of a dilution`);
    });
    const [first] = pairs as [LanePair];
    if (pairs.every((pair) => pair === first)) return first;
    const { length } = tasks[0]!.digestions;
    return {
      estimates: this.#tiled(
        pairs.map(({ estimates }) => estimates),
        length,
      ),
      standardUncertainties: this.#tiled(
        pairs.map(({ standardUncertainties }) => standardUncertainties),
        length,
      ),
    };
  }

  #tiled(lanes: readonly Lane[], length: number): Lane {
    const all = this.#pool.take(lanes.length * length);
    lanes.forEach((lane, t) => {
      if (typeof lane === 'number') all.fill(lane, t * length, (t + 1) * length);
      else all.set(lane, t * length);
    });
    return all;
  }

  /** Lines read in the same solutions share their dilutions. */
  #dilutedOn(line: number, digestions: readonly number[], { all, byLine }: DilutedLines): Diluted {
    const known = byLine[line];
    if (known !== undefined) return known;
    const { places } = this.#run.signals;
    const own = Int32Array.from(digestions, (d) => places[d * this.#lines + line]!);
    let diluted = all.find((each) => each.places.every((place, i) => place === own[i]));
    if (diluted === undefined) {
      diluted = { places: own, columns: dilutionColumns(this.#context, this.#run, digestions, own) };
      all.push(diluted);
    }
    byLine[line] = diluted;
    return diluted;
  }
}

/** How the blank of a task moves with the calibration of one of its signals. */
function effectOf({ blank, template }: Task, signal: number): BlankByCalibration['effects'] {
  for (const { label, effects } of blank!.calibrations) {
    if (label === template.signals[signal]) return effects;
  }
  return unknownInput(`a blank by the calibration of ${template.signals[signal]}`);
}

/** Templates of one shape have constants in the same places. */
function constantOf({ template }: Task, input: number): Extract<InputSource, { kind: 'constant' }> {
  return template.sources[input] as Extract<InputSource, { kind: 'constant' }>;
}

function unknownInput(name: string): never {
  throw new InputError(`input ${name} of a result: expected one that a run's records give`);
}

function isSameList(first: readonly number[], second: readonly number[]): boolean {
  if (first === second) return true;
  return first.length === second.length && first.every((value, i) => value === second[i]);
}
