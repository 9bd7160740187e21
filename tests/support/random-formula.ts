import { functionRules } from '../../src/uncertainty/expression/functions.js';
import type { RandomStream } from '../../src/uncertainty/random-stream.js';

const powers = ['2', '3', '4', '5', '-1', '-2', '0.5', '(-0.5)', '1.7', '0'];

/** A random formula over some names, with operators, powers and the functions given. */
export function randomFormula(
  random: RandomStream,
  names: readonly string[],
  depth: number,
  functions: readonly string[] = Object.keys(functionRules),
): string {
  const pick = (list: readonly string[]): string => list[Math.floor(random.uniform() * list.length)]!;
  if (depth === 0) return random.uniform() < 0.75 ? pick(names) : (0.2 + 3 * random.uniform()).toPrecision(3);
  const inner = () => randomFormula(random, names, depth - 1, functions);
  const choice = random.uniform();
  if (choice < 0.55) return `(${inner()}) ${pick(['+', '-', '*', '/'])} (${inner()})`;
  if (choice < 0.62) return `-(${inner()})`;
  if (choice < 0.75) return `(${inner()})^${pick(powers)}`;
  if (choice < 0.8) return `(${inner()})^(${inner()})`;
  return `${pick(functions)}(${inner()})`;
}
