import { type Blank, type BlankAmount, procedureBlank } from '../../chain/blank.js';
import { evaluateLanes, LaneMemory, propagateLanes } from '../../uncertainty/propagation/propagate-lanes.js';
import { type Group, RunInputs } from './run-inputs.js';
import type { StreamContext } from './stream-context.js';
import type { OpenRun, TemplateStore } from './template-store.js';

/** Results of one run by `digestion · lines + line`; NaN where there is none. */
export interface RunFigures {
  /** Mass fractions in the unit and oxide form of the plan. */
  readonly values: Float64Array;
  readonly standardUncertainties: Float64Array;
  /** Amounts of analyte in the solution, mg, blank not subtracted. */
  readonly amounts: Float64Array;
  /** By line; null with fewer than two usable blanks in the run. */
  readonly blanks: readonly (Blank | null)[];
}

/** Works out the results of one run after the other, with the same templates and the same memory. */
export class RunEvaluator {
  readonly #context: StreamContext;
  readonly #store: TemplateStore;
  readonly #memory = new LaneMemory();

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
    const inputs = new RunInputs(this.#context, run);
    const { procedure } = this.#context.records.plan.blanks;
    const blanks = run.signals.digestions.flatMap(({ kind, sample }, d) =>
      kind === 'blank' && sample === procedure ? [d] : [],
    );
    // The internal standard is calibrated too, but is no analyte.
    const { analytes } = this.#context.records.plan;
    for (let line = 0; line < analytes.length; line++) {
      const groups = inputs.groups(this.#store.signalLines(run, line));
      for (const group of groups) this.#amounts(run, line, group, inputs, figures.amounts);
      const blank = this.#blank(run, line, blanks, figures.amounts);
      figures.blanks.push(blank);
      for (const group of groups) this.#results(run, line, group, inputs, blank, figures);
    }
    return figures;
  }

  /** Amounts in solutions without portion: only they are asked for, and only they can go without a blank. */
  #amounts(run: OpenRun, line: number, group: Group, inputs: RunInputs, amounts: Float64Array): void {
    if (!inputs.isWithoutPortion(group.digestions[0]!)) return;
    const template = this.#store.template(run, line, group.digestions[0]!, group.make, null);
    const lanes = inputs.lanes(template, group.digestions, null);
    this.#put(
      run,
      line,
      group,
      evaluateLanes(template.program, lanes, template.amount, this.#memory),
      amounts,
    );
  }

  #blank({ signals, readings }: OpenRun, line: number, blanks: readonly number[], amounts: Float64Array) {
    const found = blanks.flatMap((d): BlankAmount[] => {
      const { digestion, fluxG } = signals.digestions[d]!;
      const amountMg = amounts[d * readings.scopes.length + line]!;
      return Number.isNaN(amountMg) ? [] : [{ digestion, amountMg, fluxG }];
    });
    return found.length < 2 ? null : procedureBlank(found, this.#context.records.plan.blank.scaling);
  }

  #results(
    run: OpenRun,
    line: number,
    group: Group,
    inputs: RunInputs,
    blank: Blank | null,
    figures: RunFigures,
  ): void {
    if (inputs.isWithoutPortion(group.digestions[0]!)) return;
    const template = this.#store.template(run, line, group.digestions[0]!, group.make, blank);
    const lanes = inputs.lanes(template, group.digestions, blank);
    const { program, result, amount } = template;
    const { estimates, standardUncertainties } = propagateLanes(program, lanes, result, this.#memory);
    this.#put(run, line, group, estimates, figures.values);
    this.#put(run, line, group, standardUncertainties, figures.standardUncertainties);
    // The program went through the slot of the amount on its way.
    const amounts = this.#memory.values.subarray(amount * lanes.lanes);
    this.#put(run, line, group, amounts, figures.amounts);
  }

  #put(
    { readings }: OpenRun,
    line: number,
    { digestions }: Group,
    values: Float64Array,
    to: Float64Array,
  ): void {
    for (let lane = 0; lane < digestions.length; lane++) {
      to[digestions[lane]! * readings.scopes.length + line] = values[lane]!;
    }
  }
}
