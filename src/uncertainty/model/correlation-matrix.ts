import { InputError } from '../../errors.js';
import type { Correlation, InputQuantity } from '../input-quantity.js';

/** A correlation by the positions of its inputs. */
export interface IndexedCorrelation {
  readonly first: number;
  readonly second: number;
  readonly coefficient: number;
}

/** Rounding allowed in a pivot of a singular correlation matrix. */
const rounding = 1e-9;

/**
 * Correlations by position, checked.
 *
 * @throws InputError an unknown name, a pair stated twice, a quantity with itself, a coefficient beyond ±1, a constant, or
 * a matrix that is not positive semi-definite: no such quantities can exist, and it is not repaired silently
 */
export function indexCorrelations(
  inputs: readonly InputQuantity[],
  correlations: readonly Correlation[],
): IndexedCorrelation[] {
  const indexed = locateCorrelations(inputs, correlations);
  for (const block of correlatedBlocks(indexed)) requirePossible(block, inputs, indexed);
  return indexed;
}

/** Correlations by position, without a look at the matrix they make: for those that were checked before. */
export function locateCorrelations(
  inputs: readonly InputQuantity[],
  correlations: readonly Correlation[],
): IndexedCorrelation[] {
  if (correlations.length === 0) return [];
  const index = new Map(inputs.map((input, i) => [input.name, i]));
  const pairs = new Set<number>();
  return correlations.map(({ first, second, coefficient }) => {
    const what = `correlation of "${first}" and "${second}"`;
    const i = position(index, first, what);
    const j = position(index, second, what);
    if (i === j) throw new InputError(`${what}: found one quantity, expected two`);
    const pair = Math.min(i, j) * inputs.length + Math.max(i, j);
    if (pairs.has(pair)) throw new InputError(`${what} is stated twice`);
    pairs.add(pair);
    if (!(coefficient >= -1 && coefficient <= 1)) {
      throw new InputError(`${what}: found ${coefficient}, expected a number from -1 to 1`);
    }
    return { first: i, second: j, coefficient };
  });
}

function position(index: ReadonlyMap<string, number>, name: string, what: string): number {
  const found = index.get(name);
  if (found === undefined) throw new InputError(`${what}: no input quantity has the name "${name}"`);
  return found;
}

/** Groups of positions linked by correlations other than 0, each with two members or more, in rising order. */
export function correlatedBlocks(correlations: readonly IndexedCorrelation[]): number[][] {
  const groupOf = new Map<number, Set<number>>();
  for (const { first, second, coefficient } of correlations) {
    if (coefficient === 0) continue;
    const [one, other] = [groupOf.get(first) ?? new Set([first]), groupOf.get(second) ?? new Set([second])];
    if (one === other) continue;
    const [small, large] = one.size < other.size ? [one, other] : [other, one];
    for (const member of small) large.add(member);
    for (const member of large) groupOf.set(member, large);
  }
  return [...new Set(groupOf.values())].map((group) => [...group].sort((a, b) => a - b));
}

/** Correlation matrix of some of the quantities, in the order of `members`. */
export function correlationMatrix(
  members: readonly number[],
  correlations: readonly IndexedCorrelation[],
): number[][] {
  const at = new Map(members.map((member, row) => [member, row]));
  const matrix: number[][] = members.map((_, i) => members.map((_, j) => (i === j ? 1 : 0)));
  for (const { first, second, coefficient } of correlations) {
    const i = at.get(first);
    const j = at.get(second);
    if (i === undefined || j === undefined) continue;
    matrix[i]![j] = coefficient;
    matrix[j]![i] = coefficient;
  }
  return matrix;
}

/** Cholesky's method with pivots: a pivot below zero shows a combination of the quantities with negative variance. */
function requirePossible(
  block: readonly number[],
  inputs: readonly InputQuantity[],
  correlations: readonly IndexedCorrelation[],
): void {
  const a = correlationMatrix(block, correlations);
  const left = block.map((_, i) => i);
  while (left.length > 0) {
    const p = left.reduce((best, i) => (a[i]![i]! > a[best]![best]! ? i : best));
    const pivot = a[p]![p]!;
    left.splice(left.indexOf(p), 1);
    if (pivot <= rounding) {
      const leftOver = left.some((i) => Math.abs(a[i]![p]!) > Math.sqrt(rounding));
      if (pivot < -rounding || leftOver || left.some((i) => a[i]![i]! < -rounding)) {
        const names = block.map((member) => inputs[member]!.name).join(', ');
        throw new InputError(
          `correlation matrix of ${names} is not positive semi-definite (a pivot of ${pivot.toPrecision(3)} ` +
            'is left); expected coefficients that quantities can have together',
        );
      }
      continue;
    }
    for (const i of left) {
      for (const j of left) a[i]![j]! -= (a[i]![p]! * a[p]![j]!) / pivot;
    }
  }
}
