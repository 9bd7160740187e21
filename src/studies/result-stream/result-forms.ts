import type { Program } from '../../uncertainty/expression/program.js';
import type { InputQuantity } from '../../uncertainty/input-quantity.js';
import type { MeasurementModel } from '../../uncertainty/measurement-model.js';
import { compileModel } from '../../uncertainty/model/compile-model.js';

/** Equations of a result ready to be worked out, under the names of its own inputs. */
export interface ReadyEquations {
  readonly program: Program;
  /** Index of each output in the equations. */
  readonly outputEquations: readonly number[];
}

/** Equations that differ in the names of their quantities alone, as those of two analytes do, are compiled and checked once. */
export class ResultForms {
  readonly #known = new Map<string, ReadyEquations>();

  /**
   * @param kind what else tells results apart whose check is not the same
   * @param check done with the first model of a form, for all of them
   * @throws InputError what the check or the compiler refuses
   */
  ready(
    model: MeasurementModel,
    inputs: readonly InputQuantity[],
    kind: string,
    check: () => void,
  ): ReadyEquations {
    const numbers = new Map<string, string>();
    for (const [i, { name }] of inputs.entries()) numbers.set(name, `x${i}`);
    for (const [i, { name }] of model.equations.entries()) numbers.set(name, `y${i}`);
    const numbered = (text: string) =>
      text.replace(/[A-Za-z_][A-Za-z0-9_]*/g, (word) => numbers.get(word) ?? word);
    const equations = model.equations.map(({ name, description, unit, expression }) => ({
      ...{ name: numbered(name), description, unit },
      expression: numbered(expression),
    }));
    const outputs = model.outputs.map(numbered);
    const formulas = equations.map(({ unit, expression }) => [unit, expression]);
    const key = JSON.stringify([kind, outputs, formulas, inputs.map(({ unit }) => unit)]);
    let known = this.#known.get(key);
    if (known === undefined) {
      check();
      known = compileModel({ title: model.title, equations, outputs });
      this.#known.set(key, known);
    }
    const names = known.program.inputs.map((number) => inputs[Number(number.slice(1))]!.name);
    return { program: { ...known.program, inputs: names }, outputEquations: known.outputEquations };
  }
}
