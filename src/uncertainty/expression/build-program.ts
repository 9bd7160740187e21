import { type FunctionRule, functionRule } from './functions.js';
import { applyOperation } from './operate.js';
import type { Operation, OperationName, Program } from './program.js';
import type { BinaryOperator, Expression } from './syntax-tree.js';

type Node =
  | { readonly kind: 'input'; readonly name: string }
  | { readonly kind: 'constant'; readonly value: number }
  | { readonly kind: 'operation'; readonly operation: Operation };

const operationNames: Readonly<Record<BinaryOperator, OperationName>> = {
  '+': 'add',
  '-': 'subtract',
  '*': 'multiply',
  '/': 'divide',
  '^': 'power',
};

/** Program of a list of named formulas, each of which may use the names of those before it. */
export function buildProgram(
  equations: readonly { readonly name: string; readonly tree: Expression }[],
): Program {
  const builder = new ProgramBuilder();
  for (const { name, tree } of equations) builder.add(name, tree);
  return builder.finish();
}

class ProgramBuilder {
  readonly #nodes: Node[] = [];
  readonly #known = new Map<string, number>();
  readonly #results: number[] = [];
  readonly #named = new Map<string, number>();
  #equation = '';

  add(name: string, tree: Expression): void {
    this.#equation = name;
    const node = this.#visit(tree);
    this.#results.push(node);
    this.#named.set(name, node);
  }

  finish(): Program {
    const used = this.#used();
    const inputs: string[] = [];
    const constants: number[] = [];
    const slot = new Int32Array(this.#nodes.length);
    this.#nodes.forEach((node, index) => {
      if (node.kind === 'input') slot[index] = inputs.push(node.name) - 1;
    });
    this.#nodes.forEach((node, index) => {
      if (node.kind !== 'constant' || !used.has(index)) return;
      slot[index] = inputs.length + constants.push(node.value) - 1;
    });
    const base = inputs.length + constants.length;
    const operations: Operation[] = [];
    this.#nodes.forEach((node, index) => {
      if (node.kind !== 'operation') return;
      const { first, second } = node.operation;
      slot[index] = base + operations.length;
      operations.push({ ...node.operation, first: slot[first]!, second: second < 0 ? -1 : slot[second]! });
    });
    const results = this.#results.map((node) => slot[node]!);
    return { inputs, constants, operations, results, slots: base + operations.length };
  }

  /** Nodes that an operation or a result reads: constants met on the way to other constants are left out. */
  #used(): Set<number> {
    const used = new Set(this.#results);
    for (const node of this.#nodes) {
      if (node.kind !== 'operation') continue;
      used.add(node.operation.first);
      used.add(node.operation.second);
    }
    return used;
  }

  #node(key: string, make: () => Node): number {
    const known = this.#known.get(key);
    if (known !== undefined) return known;
    this.#known.set(key, this.#nodes.length);
    return this.#nodes.push(make()) - 1;
  }

  #constant(value: number): number {
    return this.#node(`#${Object.is(value, -0) ? '-0' : value}`, () => ({ kind: 'constant', value }));
  }

  #value(node: number): number | undefined {
    const found = this.#nodes[node]!;
    return found.kind === 'constant' ? found.value : undefined;
  }

  #visit(tree: Expression): number {
    switch (tree.kind) {
      case 'number':
        return this.#constant(tree.value);
      case 'name':
        return (
          this.#named.get(tree.name) ?? this.#node(tree.name, () => ({ kind: 'input', name: tree.name }))
        );
      case 'negation':
        return this.#operation('negate', this.#visit(tree.operand), -1, tree.position);
      case 'function': {
        const rule = functionRule(tree.name);
        return this.#operation('function', this.#visit(tree.operand), -1, tree.position, tree.name, rule);
      }
      case 'operation': {
        const first = this.#visit(tree.left);
        const second = this.#visit(tree.right);
        if (tree.operator === '^') return this.#power(first, second, tree.position);
        return this.#operation(operationNames[tree.operator], first, second, tree.position);
      }
    }
  }

  /** A product costs a hundredth of a general power. */
  #power(base: number, exponent: number, position: number): number {
    const power = this.#value(exponent);
    if (this.#value(base) !== undefined || power === undefined) {
      return this.#operation('power', base, exponent, position);
    }
    const size = Math.abs(power);
    let result: number;
    if (size === 0.5) {
      result = this.#operation('function', base, -1, position, 'sqrt', functionRule('sqrt'));
    } else if (size === 1 || size === 2 || size === 3 || size === 4) {
      result = base;
      for (let k = 1; k < size; k++) result = this.#operation('multiply', result, base, position);
    } else {
      return this.#operation('power', base, exponent, position);
    }
    return power > 0 ? result : this.#operation('divide', this.#constant(1), result, position);
  }

  #operation(
    name: OperationName,
    first: number,
    second: number,
    position: number,
    functionName = '',
    rule: FunctionRule | undefined = undefined,
  ): number {
    const operation = { name, rule, functionName, first, second, equation: this.#equation, position };
    const a = this.#value(first);
    const b = second < 0 ? 0 : this.#value(second);
    if (a !== undefined && b !== undefined) {
      const value = applyOperation(operation, a, b);
      // 1/0 stays an operation, so that evaluation can say where it is.
      if (Number.isFinite(value)) return this.#constant(value);
    }
    return this.#node(`${name}${functionName}(${first},${second})`, () => ({ kind: 'operation', operation }));
  }
}
