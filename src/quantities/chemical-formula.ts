import { InputError } from '../errors.js';
import { atomicWeight } from './atomic-weights.js';

/** Atoms of each element in a formula, in order of first appearance. */
export type AtomCounts = ReadonlyMap<string, number>;

/** What `molarMass` needs to know of an element. */
export interface Weight {
  readonly value: number;
  readonly standardUncertainty: number;
}

/** Molar mass of a formula, in g/mol. */
export interface MolarMass {
  readonly formula: string;
  readonly value: number;
  readonly standardUncertainty: number;
  readonly atoms: AtomCounts;
}

/**
 * Atoms of a formula such as `Pr6O11`, `Li2B4O7` or `(NH4)2SO4`.
 *
 * @throws InputError text that is no formula, with the position from 1; an unknown element
 * @example
 * chemicalFormula('(NH4)2SO4').get('H') // => 8
 */
export function chemicalFormula(text: string): AtomCounts {
  const stack: Map<string, number>[] = [new Map()];
  const pattern = /([A-Z][a-z]?)(\d*)|(\()|(\))(\d*)/y;
  let at = 0;
  while (at < text.length) {
    pattern.lastIndex = at;
    const match = pattern.exec(text);
    if (match === null) fail(text, at, `found "${text[at]}"`);
    const [whole, element, count = '', open, close, times = ''] = match;
    if (element !== undefined) add(stack.at(-1)!, atomicWeight(element).element, countOf(count, text, at));
    else if (open !== undefined) stack.push(new Map());
    else if (close !== undefined) {
      const group = stack.pop()!;
      if (stack.length === 0 || group.size === 0) fail(text, at, 'found ")" without a group before it');
      const factor = countOf(times, text, at);
      for (const [name, n] of group) add(stack.at(-1)!, name, n * factor);
    }
    at += whole.length;
  }
  if (stack.length > 1) fail(text, text.length, 'found the end inside a group');
  if (stack[0]!.size === 0) fail(text, 0, 'found no element');
  return stack[0]!;
}

function add(counts: Map<string, number>, element: string, n: number): void {
  counts.set(element, (counts.get(element) ?? 0) + n);
}

function countOf(digits: string, text: string, at: number): number {
  if (digits === '') return 1;
  const n = Number(digits);
  if (n === 0 || digits.startsWith('0') || n > 1000) fail(text, at, `found the count ${digits}`);
  return n;
}

function fail(text: string, at: number, found: string): never {
  throw new InputError(`formula "${text}", position ${at + 1}: ${found}; expected a formula such as Al2O3`);
}

/**
 * Molar mass with its standard uncertainty. Atoms of one element share one atomic weight, so their uncertainty adds up;
 * different elements are independent.
 *
 * @param weightOf atomic weights other than the standard ones, such as those of an older table
 * @see QUAM:2012, example A2, step 3
 * @example
 * molarMass('ZrO2').value // => 123.2208
 */
export function molarMass(text: string, weightOf: (element: string) => Weight = atomicWeight): MolarMass {
  const atoms = chemicalFormula(text);
  let value = 0;
  let variance = 0;
  for (const [element, n] of atoms) {
    const weight = weightOf(element);
    value += n * weight.value;
    variance += (n * weight.standardUncertainty) ** 2;
  }
  return { formula: text, value, standardUncertainty: Math.sqrt(variance), atoms };
}
