import { type Blank, type BlankAmount, fewestBlanks, procedureBlank } from '../../chain/blank.js';
import type { AmountSources } from '../../chain/blank-calibration.js';
import { blankQuantities } from '../../chain/blank-fragment.js';
import { InputError } from '../../errors.js';
import {
  differentiateLanes,
  LaneMemory,
  propagateLanes,
} from '../../uncertainty/propagation/propagate-lanes.js';
import { LanePool } from './lane-pool.js';
import { type Group, RunGroups } from './run-groups.js';
import { RunInputs, type Task } from './run-inputs.js';
import type { StreamContext } from './stream-context.js';
import type { OpenRun, TemplateStore } from './template-store.js';

/** Results of one run by `digestion · lines + line`; NaN where there is none. */
export interface RunFigures {
  /** Mass fractions in the unit and oxide form of the plan. */
  readonly values: Float64Array;
  readonly standardUncertainties: Float64Array;
  /** Amounts of analyte in the solution, mg, blank not subtracted. */
  readonly amounts: Float64Array;
  /** By line; null with fewer than two usable blanks in the run, three where the blank is a line. */
  readonly blanks: readonly (Blank | null)[];
}

/** Works out the results of one run after the other, with the same templates and the same memory. */
export class RunEvaluator {
  readonly #context: StreamContext;
  readonly #store: TemplateStore;
  readonly #memory = new LaneMemory();
  readonly #pool = new LanePool();

  constructor(context: StreamContext, store: TemplateStore) {
    this.#context = context;
    this.#store = store;
  }

  /** @throws InputError records that the chain cannot combine */
  evaluate(run: OpenRun): RunFigures {
    const lines = run.readings.scopes.length;
    const cells = run.signals.digestions.length * lines;
    const figures = {
      values: new Float64Array(cells).fill(Number.NaN),
      standardUncertainties: new Float64Array(cells).fill(Number.NaN),
      amounts: new Float64Array(cells).fill(Number.NaN),
      blanks: [] as (Blank | null)[],
    };
    const inputs = new RunInputs(this.#context, run, this.#pool);
    const kinds = new RunGroups(this.#context, run);
    const { procedure } = this.#context.records.plan.blanks;
    const blanks = run.signals.digestions.flatMap(({ kind, sample }, d) =>
      kind === 'blank' && sample === procedure ? [d] : [],
    );
    // The internal standard is calibrated too, but is no analyte.
    const { analytes } = this.#context.records.plan;
    const groups = analytes.map((_, line) => kinds.groups(this.#store.signalLines(run, line)));
    // Amounts need no blank: where there is no portion, nothing else is asked for.
    const sources = this.#amounts(
      run,
      inputs,
      this.#tasks(run, groups, (group) => kinds.isBlank(group.digestions[0]!)),
      figures,
    );
    for (let line = 0; line < analytes.length; line++) {
      figures.blanks.push(this.#blank(run, line, blanks, figures.amounts, sources));
    }
    const hasPortion = (group: Group) => !kinds.isWithoutPortion(group.digestions[0]!);
    this.#results(run, inputs, this.#tasks(run, groups, hasPortion, figures.blanks), figures);
    return figures;
  }

  #tasks(
    run: OpenRun,
    groups: readonly (readonly Group[])[],
    isWanted: (group: Group) => boolean,
    blanks: readonly (Blank | null)[] = [],
  ): Task[] {
    return groups.flatMap((ofLine, line) => {
      const blank = blanks[line] ?? null;
      const quantities =
        blank === null ? null : { ...blankQuantities(blank), calibrations: blank.calibrations! };
      return ofLine.filter(isWanted).map(({ make, digestions }): Task => {
        const template = this.#store.template(run, line, digestions[0]!, make, blank);
        const signals = this.#store.linesOf(run, template);
        return { template, signals, line, digestions, blank: quantities };
      });
    });
  }

  /** @returns what the amounts rest on beside, by cell */
  #amounts(
    run: OpenRun,
    inputs: RunInputs,
    tasks: readonly Task[],
    { amounts }: RunFigures,
  ): Map<number, AmountSources> {
    const sources = new Map<number, AmountSources>();
    const { calibrations, ratioUncertainties } = run.signals;
    const lines = run.readings.scopes.length;
    for (const batch of inputs.batches(tasks)) {
      const { program, amount, signalInputs } = batch[0]!.template;
      const lanes = inputs.lanes(batch);
      const { values, derivatives } = differentiateLanes(program, lanes, amount, this.#memory);
      put(run, batch, values, amounts);
      eachLane(run, batch, ({ template, signals }, cell, lane) => {
        const by = (slot: number) => derivatives[slot * lanes.lanes + lane]!;
        const d = Math.floor(cell / lines);
        const byReading = signalInputs.map(
          ({ ratio }, signal) => by(ratio) * ratioUncertainties[d * lines + signals[signal]!]!,
        );
        sources.set(cell, {
          calibrations: signalInputs.map(({ intercept, slope }, signal) => ({
            label: template.signals[signal]!,
            calibration: calibrations[signals[signal]!]!,
            byIntercept: by(intercept),
            bySlope: by(slope),
          })),
          readingMg: Math.hypot(...byReading),
        });
      });
    }
    return sources;
  }

  #results(run: OpenRun, inputs: RunInputs, tasks: readonly Task[], figures: RunFigures): void {
    for (const batch of inputs.batches(tasks)) {
      const { program, result, amount } = batch[0]!.template;
      const lanes = inputs.lanes(batch);
      const { estimates, standardUncertainties } = propagateLanes(program, lanes, result, this.#memory);
      put(run, batch, estimates, figures.values);
      put(run, batch, standardUncertainties, figures.standardUncertainties);
      // The program went through the slot of the amount on its way.
      put(run, batch, this.#memory.values.subarray(amount * lanes.lanes), figures.amounts);
    }
  }

  #blank(
    { signals, readings }: OpenRun,
    line: number,
    blanks: readonly number[],
    amounts: Float64Array,
    sources: ReadonlyMap<number, AmountSources>,
  ) {
    const found = blanks.flatMap((d): BlankAmount[] => {
      const { digestion, fluxG } = signals.digestions[d]!;
      const cell = d * readings.scopes.length + line;
      const amountMg = amounts[cell]!;
      return Number.isNaN(amountMg) ? [] : [{ digestion, amountMg, fluxG, ...sources.get(cell) }];
    });
    const { scaling } = this.#context.records.plan.blank;
    const fewest = fewestBlanks(scaling);
    if (fewest > 2 && found.length > 0 && found.length < fewest) {
      throw new InputError(
        `run ${readings.run}: found ${found.length} procedure blanks of ${readings.scopes[line]!.analyte}, expected at least ${fewest} in each run for a blank ${scaling}`,
      );
    }
    return found.length < fewest ? null : procedureBlank(found, scaling);
  }
}

/** Lanes of a batch to the cells of a run. */
function put(run: OpenRun, batch: readonly Task[], values: Float64Array, to: Float64Array): void {
  eachLane(run, batch, (_, cell, lane) => {
    to[cell] = values[lane]!;
  });
}

function eachLane(
  { readings }: OpenRun,
  batch: readonly Task[],
  visit: (task: Task, cell: number, lane: number) => void,
): void {
  let lane = 0;
  for (const task of batch) {
    for (const d of task.digestions) visit(task, d * readings.scopes.length + task.line, lane++);
  }
}
