import { type Blank, type BlankAmount, fewestBlanks, procedureBlank } from '../../chain/blank.js';
import type { AmountByCalibration, AmountSources } from '../../chain/blank-calibration.js';
import { blankQuantities } from '../../chain/blank-fragment.js';
import { InputError } from '../../errors.js';
import {
  differentiateLanes,
  LaneMemory,
  propagateLanes,
} from '../../uncertainty/propagation/propagate-lanes.js';
import { LanePool } from './lane-pool.js';
import { type Group, RunGroups } from './run-groups.js';
import { type BlankOfTask, RunInputs, type Task } from './run-inputs.js';
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
    const blanks: number[] = [];
    run.signals.digestions.forEach(({ kind, sample }, d) => {
      if (kind === 'blank' && sample === procedure) blanks.push(d);
    });
    // The internal standard is calibrated too, but is no analyte.
    const { analytes } = this.#context.records.plan;
    const groups: (readonly Group[])[] = [];
    for (let line = 0; line < analytes.length; line++) {
      groups.push(kinds.groups(this.#store.signalLines(run, line)));
    }
    // Amounts need no blank: where there is no portion, nothing else is asked for.
    const sources = this.#amounts(run, inputs, this.#tasks(run, kinds, groups, null), figures);
    for (let line = 0; line < analytes.length; line++) {
      figures.blanks.push(this.#blank(run, line, blanks, figures.amounts, sources));
    }
    this.#results(run, inputs, this.#tasks(run, kinds, groups, figures.blanks), figures);
    return figures;
  }

  /** @param blanks by line, for the results of what has a portion; null for amounts of blanks, which need none */
  #tasks(
    run: OpenRun,
    kinds: RunGroups,
    groups: readonly (readonly Group[])[],
    blanks: readonly (Blank | null)[] | null,
  ): Task[] {
    const tasks: Task[] = [];
    for (let line = 0; line < groups.length; line++) {
      const blank = blanks === null ? null : blanks[line]!;
      const ofTask = blank === null ? null : blankOfTask(blank);
      const templates = this.#store.ofLine(run, line, blank);
      for (const { make, digestions } of groups[line]!) {
        const d = digestions[0]!;
        if (blanks === null ? !kinds.isBlank(d) : kinds.isWithoutPortion(d)) continue;
        const template = this.#store.template(templates, run, line, d, make, blank);
        const signals = this.#store.linesOf(run, template);
        tasks.push({ template, signals, line, digestions, blank: ofTask });
      }
    }
    return tasks;
  }

  /** @returns what the amounts rest on beside, by cell */
  #amounts(
    run: OpenRun,
    inputs: RunInputs,
    tasks: readonly Task[],
    { amounts }: RunFigures,
  ): Map<number, Required<AmountSources>> {
    const sources = new Map<number, Required<AmountSources>>();
    for (const batch of inputs.batches(tasks)) {
      const { program, amount } = batch[0]!.template;
      const lanes = inputs.lanes(batch);
      const { values, derivatives } = differentiateLanes(program, lanes, amount, this.#memory);
      put(run, batch, values, amounts);
      putSources(run, batch, derivatives, lanes.lanes, sources);
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
    sources: ReadonlyMap<number, Required<AmountSources>>,
  ) {
    const found: BlankAmount[] = [];
    for (const d of blanks) {
      const { digestion, fluxG } = signals.digestions[d]!;
      const cell = d * readings.scopes.length + line;
      const amountMg = amounts[cell]!;
      if (Number.isNaN(amountMg)) continue;
      const { calibrations, readingMg } = sources.get(cell)!;
      found.push({ digestion, amountMg, fluxG, calibrations, readingMg });
    }
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

function blankOfTask(blank: Blank): BlankOfTask {
  return { ...blankQuantities(blank), calibrations: blank.calibrations! };
}

/** Lanes of a batch to the cells of a run. */
function put({ readings }: OpenRun, batch: readonly Task[], values: Float64Array, to: Float64Array): void {
  let lane = 0;
  for (const { line, digestions } of batch) {
    for (let i = 0; i < digestions.length; i++, lane++) {
      to[digestions[i]! * readings.scopes.length + line] = values[lane]!;
    }
  }
}

/** What the amounts of a batch rest on, from their derivatives, to the cells of a run. */
function putSources(
  { readings, signals: cells }: OpenRun,
  batch: readonly Task[],
  derivatives: Float64Array,
  lanes: number,
  to: Map<number, Required<AmountSources>>,
): void {
  const lines = readings.scopes.length;
  let lane = 0;
  for (const { template, signals, line, digestions } of batch) {
    for (let i = 0; i < digestions.length; i++, lane++) {
      const calibrations: AmountByCalibration[] = [];
      let variance = 0;
      for (let signal = 0; signal < signals.length; signal++) {
        const { ratio, intercept, slope } = template.signalInputs[signal]!;
        const u = cells.ratioUncertainties[digestions[i]! * lines + signals[signal]!]!;
        variance += (derivatives[ratio * lanes + lane]! * u) ** 2;
        calibrations.push({
          label: template.signals[signal]!,
          calibration: cells.calibrations[signals[signal]!]!,
          byIntercept: derivatives[intercept * lanes + lane]!,
          bySlope: derivatives[slope * lanes + lane]!,
        });
      }
      to.set(digestions[i]! * lines + line, { calibrations, readingMg: Math.sqrt(variance) });
    }
  }
}
