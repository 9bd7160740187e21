import { InputError } from '../../errors.js';
import { buildProgram } from '../expression/build-program.js';
import { functionRule } from '../expression/functions.js';
import { parseExpression } from '../expression/parse.js';
import type { Program } from '../expression/program.js';
import { type Expression, ExpressionError } from '../expression/syntax-tree.js';
import type { MeasurementModel } from '../measurement-model.js';

/** A measurement model made ready: its formulas parsed once, as a list of operations. */
export interface CompiledModel {
  readonly model: MeasurementModel;
  readonly program: Program;
  /** Syntax tree of each equation, in order. */
  readonly trees: readonly Expression[];
  /** Index of each output in the equations, in the order of `model.outputs`. */
  readonly outputEquations: readonly number[];
}

const compiled = new WeakMap<MeasurementModel, CompiledModel>();

/** What equations alone decide: the results of a day have few different ones, under many titles. */
type CompiledEquations = Omit<CompiledModel, 'model'>;

const byEquations = new Map<string, CompiledEquations>();
const mostKept = 500;

/**
 * A measurement model made ready for `propagate` and simulation. The same model object is compiled once.
 *
 * @throws ExpressionError a formula that cannot be read, with its equation, reason and position
 * @throws InputError no equation or output, a name used twice or not allowed, an output that is no equation
 * @example
 * const equations = [{ name: 'c', description: '', unit: '1', expression: 'a * b' }];
 * compileModel({ title: 'product', equations, outputs: ['c'] }).program.inputs.length // => 2
 */
export function compileModel(model: MeasurementModel): CompiledModel {
  const known = compiled.get(model);
  if (known !== undefined) return known;
  const key = equationsText(model);
  let equations = byEquations.get(key);
  if (equations === undefined) {
    equations = compileEquations(model);
    if (byEquations.size >= mostKept) byEquations.clear();
    byEquations.set(key, equations);
  }
  const result = { model, ...equations };
  compiled.set(model, result);
  return result;
}

/** Everything that compiled equations and the check of their units rest on. */
function equationsText({ equations, outputs }: MeasurementModel): string {
  return JSON.stringify([outputs, equations.map(({ name, unit, expression }) => [name, unit, expression])]);
}

function compileEquations(model: MeasurementModel): CompiledEquations {
  const names = equationNames(model);
  const trees = model.equations.map((equation) => parseEquation(equation.name, equation.expression));
  for (const [index, tree] of trees.entries()) refuseLaterNames(tree, index, names, model);
  const program = buildProgram(trees.map((tree, index) => ({ name: names[index]!, tree })));
  return { program, trees, outputEquations: outputEquations(model, names) };
}

/** @throws InputError a name that is not a letter followed by letters, digits and underscores, or that is taken */
export function requireName(name: string, what: string): void {
  if (!/^[A-Za-z][A-Za-z0-9_]*$/.test(name)) {
    throw new InputError(
      `${what}: found name "${name}", expected a letter, then letters, digits, underscores`,
    );
  }
  if (name === 'pi' || functionRule(name) !== undefined) {
    throw new InputError(
      `${what}: the name "${name}" is taken by ${name === 'pi' ? 'the number' : 'a function'}`,
    );
  }
}

function equationNames(model: MeasurementModel): string[] {
  if (model.equations.length === 0) throw new InputError(`model "${model.title}" has no equation`);
  const names: string[] = [];
  for (const { name } of model.equations) {
    requireName(name, `equation of model "${model.title}"`);
    if (names.includes(name))
      throw new InputError(`model "${model.title}" has two equations named "${name}"`);
    names.push(name);
  }
  return names;
}

function outputEquations(model: MeasurementModel, names: readonly string[]): number[] {
  if (model.outputs.length === 0) throw new InputError(`model "${model.title}" names no output quantity`);
  return model.outputs.map((output, index) => {
    if (model.outputs.indexOf(output) !== index) {
      throw new InputError(`model "${model.title}" names the output "${output}" twice`);
    }
    const equation = names.indexOf(output);
    if (equation >= 0) return equation;
    throw new InputError(
      `model "${model.title}": output "${output}" is no equation; expected one of ${names.join(', ')}`,
    );
  });
}

function parseEquation(name: string, expression: string): Expression {
  try {
    return parseExpression(expression);
  } catch (error) {
    if (!(error instanceof ExpressionError)) throw error;
    throw new ExpressionError(`equation "${name}": ${error.reason}`, error.position, expression);
  }
}

function refuseLaterNames(
  tree: Expression,
  index: number,
  names: readonly string[],
  model: MeasurementModel,
): void {
  switch (tree.kind) {
    case 'number':
      return;
    case 'name':
      if (names.indexOf(tree.name) >= index) {
        const { name, expression } = model.equations[index]!;
        const reason = `equation "${name}": "${tree.name}" is not yet known; equations stand in order of use`;
        throw new ExpressionError(reason, tree.position, expression);
      }
      return;
    case 'operation':
      refuseLaterNames(tree.left, index, names, model);
      refuseLaterNames(tree.right, index, names, model);
      return;
    default:
      refuseLaterNames(tree.operand, index, names, model);
  }
}
