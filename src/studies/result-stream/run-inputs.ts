import type { BlankByCalibration } from '../../chain/blank-calibration.js';
import type { BlankQuantities } from '../../chain/blank-fragment.js';
import { InputError } from '../../errors.js';
import type { DigestionRecord } from '../../records/tables/digestions.js';
import type { Lane, LaneCorrelation, LaneInputs } from '../../uncertainty/propagation/propagate-lanes.js';
import { DilutionsOfLines, isSameList } from './dilutions-of-lines.js';
import type { LanePool } from './lane-pool.js';
import { type LineCalibration, lineCalibration } from './line-calibration.js';
import type { InputSource, ResultTemplate } from './result-template.js';
import { weighingColumns } from './run-weighings.js';
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

/** Digestions that are worked out together, with what many of their analytes share. */
interface Gathering {
  readonly digestions: readonly number[];
  readonly weighings: WeighingColumns;
  readonly dilutions: DilutionsOfLines;
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
    const calibrations: (LineCalibration | undefined)[] = [];
    for (const each of run.signals.calibrations) calibrations.push(each && lineCalibration(each));
    this.#calibrations = calibrations;
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
    const correlations: LaneCorrelation[] = [];
    for (let signal = 0; signal < template.signalInputs.length; signal++) {
      const { intercept, slope } = template.signalInputs[signal]!;
      const own = this.#calibrationsOf(tasks, signal);
      const numbers: number[] = [];
      for (let t = 0; t < own.length; t++) numbers.push(own[t]!.correlation);
      correlations.push({ first: intercept, second: slope, coefficient: this.#spread(numbers, tasks) });
    }
    if (template.blankPair !== null) {
      const numbers: number[] = [];
      for (let t = 0; t < tasks.length; t++) numbers.push(tasks[t]!.blank!.correlation);
      correlations.push({ ...template.blankPair, coefficient: this.#spread(numbers, tasks) });
    }
    return { lanes: digestions.length * tasks.length, estimates, standardUncertainties, correlations };
  }

  #placeOf(digestions: readonly number[]): number {
    const gatherings = this.#gatherings;
    for (let i = 0; i < gatherings.length; i++) {
      if (isSameList(gatherings[i]!.digestions, digestions)) return i;
    }
    const rows: DigestionRecord[] = [];
    for (const d of digestions) rows.push(this.#run.signals.digestions[d]!);
    const weighings = weighingColumns(this.#context, rows);
    const dilutions = new DilutionsOfLines(this.#context, this.#run, digestions);
    return gatherings.push({ digestions, weighings, dilutions }) - 1;
  }

  #pair(tasks: readonly Task[], input: number, { weighings, dilutions }: Gathering): LanePair {
    const source = tasks[0]!.template.sources[input]!;
    const { ratios, ratioUncertainties, drifts, driftUncertainties } = this.#run.signals;
    switch (source.kind) {
      case 'constant':
        return this.#constants(tasks, input);
      case 'digestion':
        return weighings.get(source.name) ?? unknownInput(source.name);
      case 'flux':
        return weighings.get(source.kind) ?? unknownInput(source.kind);
      case 'dilution':
        return this.#diluted(tasks, source, dilutions);
      case 'ratio':
        return this.#cells(ratios, ratioUncertainties, tasks, source.signal);
      case 'drift':
        return this.#cells(drifts, driftUncertainties, tasks, source.signal);
      case 'intercept':
      case 'slope':
        return this.#coefficients(tasks, source.signal, source.kind);
      case 'blank':
        return this.#blanks(tasks, source.quantity);
      case 'blank by calibration':
        return this.#effects(tasks, source);
    }
  }

  /** One number a task as lanes. */
  #spread(numbers: readonly number[], tasks: readonly Task[]): Lane {
    const first = numbers[0]!;
    let isOne = true;
    for (let t = 1; t < numbers.length && isOne; t++) isOne = numbers[t] === first;
    if (isOne) return first;
    const { length } = tasks[0]!.digestions;
    const lane = this.#pool.take(numbers.length * length);
    for (let t = 0; t < numbers.length; t++) putNumber(lane, t * length, numbers[t]!, length);
    return lane;
  }

  #spreadBoth(estimates: readonly number[], us: readonly number[], tasks: readonly Task[]): LanePair {
    return { estimates: this.#spread(estimates, tasks), standardUncertainties: this.#spread(us, tasks) };
  }

  /** Templates of one shape have constants in the same places. */
  #constants(tasks: readonly Task[], input: number): LanePair {
    const [estimates, us]: [number[], number[]] = [[], []];
    for (let t = 0; t < tasks.length; t++) {
      const source = tasks[t]!.template.sources[input] as Extract<InputSource, { kind: 'constant' }>;
      estimates.push(source.estimate);
      us.push(source.standardUncertainty);
    }
    return this.#spreadBoth(estimates, us, tasks);
  }

  #coefficients(tasks: readonly Task[], signal: number, kind: 'intercept' | 'slope'): LanePair {
    const own = this.#calibrationsOf(tasks, signal);
    const [estimates, us]: [number[], number[]] = [[], []];
    for (let t = 0; t < own.length; t++) {
      const { intercept, slope, standardUncertainties } = own[t]!;
      estimates.push(kind === 'intercept' ? intercept : slope);
      us.push(kind === 'intercept' ? standardUncertainties.intercept : standardUncertainties.slope);
    }
    return this.#spreadBoth(estimates, us, tasks);
  }

  /** A template with this input was made with a blank of the study's rule. */
  #blanks(tasks: readonly Task[], quantity: 'b_f' | 'b_0' | 'd_b'): LanePair {
    const [estimates, us]: [number[], number[]] = [[], []];
    for (let t = 0; t < tasks.length; t++) {
      const { estimate, standardUncertainty } = tasks[t]!.blank![quantity]!;
      estimates.push(estimate);
      us.push(standardUncertainty);
    }
    return this.#spreadBoth(estimates, us, tasks);
  }

  #effects(
    tasks: readonly Task[],
    { signal, coefficient, derivative }: Extract<InputSource, { kind: 'blank by calibration' }>,
  ): LanePair {
    const numbers: number[] = [];
    for (let t = 0; t < tasks.length; t++) {
      numbers.push(effectOf(tasks[t]!, signal)[coefficient]![derivative]);
    }
    return { estimates: this.#spread(numbers, tasks), standardUncertainties: 0 };
  }

  /** Calibration of one signal of each task. */
  #calibrationsOf(tasks: readonly Task[], signal: number): readonly LineCalibration[] {
    const own: LineCalibration[] = [];
    for (let t = 0; t < tasks.length; t++) {
      const line = tasks[t]!.signals[signal]!;
      own.push(this.#calibrations[line] ?? this.#notCalibrated(line));
    }
    return own;
  }

  #notCalibrated(line: number): never {
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
    dilutions: DilutionsOfLines,
  ): LanePair {
    const pairs: LanePair[] = [];
    let isOne = true;
    for (let t = 0; t < tasks.length; t++) {
      const columns = dilutions.columnsOf(tasks[t]!.signals[signal]!);
      const pair = columns.get(part) ?? unknownInput(`${part} of a dilution`);
      pairs.push(pair);
      isOne &&= pair === pairs[0];
    }
    if (isOne) return pairs[0]!;
    const { length } = tasks[0]!.digestions;
    const estimates = this.#pool.take(pairs.length * length);
    const us = this.#pool.take(estimates.length);
    for (let t = 0; t < pairs.length; t++) {
      putLane(estimates, t * length, pairs[t]!.estimates, length);
      putLane(us, t * length, pairs[t]!.standardUncertainties, length);
    }
    return { estimates, standardUncertainties: us };
  }
}

/** How the blank of a task moves with the calibration of one of its signals. */
function effectOf({ blank, template }: Task, signal: number): BlankByCalibration['effects'] {
  for (const { label, effects } of blank!.calibrations) {
    if (label === template.signals[signal]) return effects;
  }
  return unknownInput(`a blank by the calibration of ${template.signals[signal]}`);
}

/** A loop: `fill` takes longer to begin than so few numbers take. */
function putNumber(to: Float64Array, from: number, value: number, length: number): void {
  for (let i = from; i < from + length; i++) to[i] = value;
}

function putLane(to: Float64Array, from: number, lane: Lane, length: number): void {
  if (typeof lane === 'number') putNumber(to, from, lane, length);
  else to.set(lane, from);
}

function unknownInput(name: string): never {
  throw new InputError(`input ${name} of a result: expected one that a run's records give`);
}
