import { parseUnit, sameDimension } from '../../quantities/unit.js';
import { type Dimension, dimensionless, dimensionText } from '../../quantities/unit-symbols.js';
import { functionRule } from '../expression/functions.js';
import type { Program } from '../expression/program.js';
import { type Expression, ExpressionError } from '../expression/syntax-tree.js';
import type { InputQuantity } from '../input-quantity.js';
import type { CompiledModel } from './compile-model.js';

/**
 * What a part of a formula measures. `scales` are the possible sizes of its unit in coherent SI units: a written power of
 * ten may be a plain number or a conversion, so there can be several.
 */
interface Measure {
  readonly dimension: Dimension;
  readonly scales: readonly number[];
  /** Value of a part without names. */
  readonly constant: number | undefined;
}

/** Written numbers that may convert units, beside powers of ten: minutes, hours, days. */
const conversions = [60, 3600, 86400, 24];

/** Inputs with which a program was last checked; models of the same equations and units share it. */
const checked = new WeakMap<Program, string>();

/**
 * Checks the units of a model: what is added has one unit, functions take pure numbers, and each formula yields the unit
 * its equation declares, conversions by a written power of ten (or 60, 3600, 24, 86400) included.
 *
 * @throws ExpressionError equation, position and the two units that do not fit
 * @throws InputError a unit that cannot be read
 */
export function checkUnits(
  ready: CompiledModel,
  inputs: readonly Pick<InputQuantity, 'name' | 'unit'>[],
): true {
  const key = inputs.map(({ name, unit }) => `${name} ${unit}`).join('\n');
  if (checked.get(ready.program) === key) return true;
  const measures = new Map<string, Measure>();
  for (const { name, unit } of inputs) measures.set(name, ofUnit(unit));
  ready.model.equations.forEach((equation, index) => {
    const reader = new UnitChecker(equation.name, equation.expression, measures);
    const tree = ready.trees[index]!;
    const declared = ofUnit(equation.unit);
    reader.requireDeclared(reader.measure(tree), declared, equation.unit, tree.position);
    measures.set(equation.name, declared);
  });
  checked.set(ready.program, key);
  return true;
}

function ofUnit(text: string): Measure {
  const { dimension, scale } = parseUnit(text);
  return { dimension, scales: [scale], constant: undefined };
}

function same(first: number, second: number): boolean {
  return Math.abs(first / second - 1) < 1e-9;
}

function distinct(scales: readonly number[]): number[] {
  return scales.filter((scale, i) => scales.findIndex((other) => same(scale, other)) === i);
}

function unitText({ dimension, scales }: Measure): string {
  const scale = Number(scales[0]!.toPrecision(6));
  return scale === 1 ? dimensionText(dimension) : `${scale} ${dimensionText(dimension)}`;
}

class UnitChecker {
  readonly #equation: string;
  readonly #text: string;
  readonly #known: ReadonlyMap<string, Measure>;

  constructor(equation: string, text: string, known: ReadonlyMap<string, Measure>) {
    this.#equation = equation;
    this.#text = text;
    this.#known = known;
  }

  #fail(reason: string, position: number): never {
    throw new ExpressionError(`equation "${this.#equation}": ${reason}`, position, this.#text);
  }

  requireDeclared(found: Measure, declared: Measure, unit: string, position: number): void {
    if (!sameDimension(found.dimension, declared.dimension)) {
      this.#fail(
        `found the unit ${unitText(found)}; expected the declared ${unit} (${unitText(declared)})`,
        position,
      );
    }
    if (found.scales.some((scale) => same(scale, declared.scales[0]!))) return;
    const nearest = { ...found, scales: [nearestScale(found.scales, declared.scales[0]!)] };
    const factor = Number((nearest.scales[0]! / declared.scales[0]!).toPrecision(6));
    this.#fail(
      `found the unit ${unitText(nearest)}; expected the declared ${unit} (${unitText(declared)}): ` +
        `the formula lacks a conversion by ${factor}`,
      position,
    );
  }

  measure(tree: Expression): Measure {
    switch (tree.kind) {
      case 'number':
        return { dimension: dimensionless, scales: scalesOf(tree.value), constant: tree.value };
      case 'name':
        return this.#known.get(tree.name) ?? this.#fail(`unknown quantity "${tree.name}"`, tree.position);
      case 'negation': {
        const operand = this.measure(tree.operand);
        return { ...operand, constant: operand.constant === undefined ? undefined : -operand.constant };
      }
      case 'function':
        return this.#function(tree.name, this.measure(tree.operand), tree.position);
      case 'operation': {
        const [left, right] = [this.measure(tree.left), this.measure(tree.right)];
        if (tree.operator === '+' || tree.operator === '-') {
          return this.#sum(left, right, tree.operator, tree.position);
        }
        if (tree.operator === '^') return this.#power(left, right, tree.position);
        return product(left, right, tree.operator === '*' ? 1 : -1);
      }
    }
  }

  #sum(left: Measure, right: Measure, operator: '+' | '-', position: number): Measure {
    const scales = left.scales.filter((scale) => right.scales.some((other) => same(scale, other)));
    if (!sameDimension(left.dimension, right.dimension) || scales.length === 0) {
      this.#fail(`found ${unitText(left)} ${operator} ${unitText(right)}; expected one unit`, position);
    }
    const sign = operator === '+' ? 1 : -1;
    const known = left.constant !== undefined && right.constant !== undefined;
    const constant = known ? left.constant + sign * right.constant : undefined;
    return { dimension: left.dimension, scales, constant };
  }

  #power(base: Measure, exponent: Measure, position: number): Measure {
    this.#pure(exponent, 'exponent', position);
    const power = exponent.constant;
    if (power === undefined) {
      this.#pure(base, 'base of a power with a variable exponent', position);
      return { dimension: dimensionless, scales: [1], constant: undefined };
    }
    return {
      dimension: base.dimension.map((d) => d * power),
      scales: base.scales.map((scale) => scale ** power),
      constant: base.constant === undefined ? undefined : base.constant ** power,
    };
  }

  #function(name: string, operand: Measure, position: number): Measure {
    const rule = functionRule(name)!;
    const constant = operand.constant === undefined ? undefined : rule.value(operand.constant);
    if (rule.unit === 'same') return { ...operand, constant };
    if (rule.unit === 'number') {
      this.#pure(operand, `argument of ${name}`, position);
      return { dimension: dimensionless, scales: [1], constant };
    }
    const power = rule.unit === 'square root' ? 1 / 2 : 1 / 3;
    return {
      dimension: operand.dimension.map((d) => d * power),
      scales: operand.scales.map((scale) => scale ** power),
      constant,
    };
  }

  #pure(measure: Measure, what: string, position: number): void {
    const pure = sameDimension(measure.dimension, dimensionless) && measure.scales.some((s) => same(s, 1));
    if (!pure) this.#fail(`found ${unitText(measure)} as ${what}; expected a pure number`, position);
  }
}

/**
 * Of the sizes that the written powers of ten leave open, the one that lacks the smallest conversion: in `10000 * ratio` in
 * mg/kg the 10000 is a conversion already, and 100 is lacking.
 */
function nearestScale(scales: readonly number[], declared: number): number {
  const distance = (scale: number): number => Math.abs(Math.log(scale / declared));
  return scales.reduce((nearest, scale) => (distance(scale) < distance(nearest) ? scale : nearest));
}

function scalesOf(value: number): number[] {
  const power = Math.log10(Math.abs(value));
  const isPowerOfTen = value !== 0 && power !== 0 && Math.abs(power - Math.round(power)) < 1e-12;
  return isPowerOfTen || conversions.includes(value) ? [1, 1 / Math.abs(value)] : [1];
}

function product(left: Measure, right: Measure, sign: 1 | -1): Measure {
  const scales = left.scales.flatMap((a) => right.scales.map((b) => (sign === 1 ? a * b : a / b)));
  const known = left.constant !== undefined && right.constant !== undefined;
  const constant = known
    ? sign === 1
      ? left.constant * right.constant
      : left.constant / right.constant
    : undefined;
  const dimension = left.dimension.map((d, i) => d + sign * right.dimension[i]!);
  return { dimension, scales: distinct(scales), constant };
}
