import { partialByFirst, partialBySecond } from '../expression/operate.js';
import type { Operation, Program } from '../expression/program.js';

/** One sweep from the result back to the inputs. A row of `lanes` numbers begins at slot · lanes. */
interface Sweep {
  readonly lanes: number;
  readonly values: Float64Array;
  readonly adjoints: Float64Array;
  /** Where the derivatives by each slot begin in `adjoints`, −1 as long as there are none. */
  readonly places: Int32Array;
  /** 1 for a slot by which a derivative is wanted, or on the way to one. */
  readonly wanted: Uint8Array;
  /** Operands that each slot is. */
  readonly uses: Uint32Array;
}

/**
 * Derivatives of the result of a program at many points, by the chain rule from the result back.
 *
 * @param values one row a slot, as the program left them
 * @param adjoints room for as many rows: the derivatives
 * @param isWanted 1 for an input by which the derivative is wanted
 * @returns for each slot where its row of derivatives begins, −1 where none is wanted or the result does not depend on it.
 *   Terms of a sum share one row.
 */
export function gradientOfLanes(
  program: Program,
  lanes: number,
  result: number,
  values: Float64Array,
  adjoints: Float64Array,
  isWanted: Uint8Array,
): Int32Array {
  const wanted = wantedSlots(program, isWanted);
  const places = new Int32Array(program.slots).fill(-1);
  const sweep = { lanes, values, adjoints, places, wanted, uses: usesOf(program) };
  if (wanted[result] === 0) return places;
  places[result] = result * lanes;
  adjoints.fill(1, result * lanes, (result + 1) * lanes);
  const base = program.inputs.length + program.constants.length;
  for (let slot = result; slot >= base; slot--) {
    if (places[slot]! >= 0) goBack(sweep, program.operations[slot - base]!, slot);
  }
  return places;
}

function wantedSlots({ inputs, constants, operations, slots }: Program, isWanted: Uint8Array): Uint8Array {
  const wanted = new Uint8Array(slots);
  wanted.set(isWanted);
  const base = inputs.length + constants.length;
  for (let i = 0; i < operations.length; i++) {
    const { first, second } = operations[i]!;
    wanted[base + i] = second < 0 ? wanted[first]! : wanted[first]! | wanted[second]!;
  }
  return wanted;
}

function usesOf({ operations, slots }: Program): Uint32Array {
  const uses = new Uint32Array(slots);
  for (const { first, second } of operations) {
    uses[first]!++;
    if (second >= 0) uses[second]!++;
  }
  return uses;
}

function goBack(sweep: Sweep, operation: Operation, slot: number): void {
  const { lanes, values, adjoints, places, wanted } = sweep;
  const { first, second } = operation;
  const from = places[slot]!;
  switch (operation.name) {
    case 'add':
      handOn(sweep, first, from);
      handOn(sweep, second, from);
      return;
    case 'subtract':
      handOn(sweep, first, from);
      if (wanted[second] === 1) subtractRow(adjoints, rowOf(sweep, second), from, lanes);
      return;
    case 'multiply':
      if (wanted[first] === 1)
        addProducts(adjoints, rowOf(sweep, first), from, values, second * lanes, lanes);
      if (wanted[second] === 1)
        addProducts(adjoints, rowOf(sweep, second), from, values, first * lanes, lanes);
      return;
    case 'divide': {
      const b = second * lanes;
      if (wanted[first] === 1) addQuotients(adjoints, rowOf(sweep, first), from, values, b, lanes);
      if (wanted[second] === 1) {
        subtractShares(adjoints, rowOf(sweep, second), from, values, b, slot * lanes, lanes);
      }
      return;
    }
    default:
      otherBack(sweep, operation, slot);
  }
}

/** Derivatives as they are: the one term of a sum that a slot is takes them over, any other adds them up. */
function handOn(sweep: Sweep, slot: number, from: number): void {
  if (sweep.wanted[slot] === 0) return;
  if (sweep.uses[slot] === 1) sweep.places[slot] = from;
  else addRow(sweep.adjoints, rowOf(sweep, slot), from, sweep.lanes);
}

/** Row that derivatives by a slot are added up in, 0 at first. */
function rowOf({ adjoints, lanes, places }: Sweep, slot: number): number {
  const row = slot * lanes;
  if (places[slot]! < 0) {
    places[slot] = row;
    adjoints.fill(0, row, row + lanes);
  }
  return row;
}

function addRow(adjoints: Float64Array, to: number, from: number, lanes: number): void {
  for (let i = 0; i < lanes; i++) adjoints[to + i]! += adjoints[from + i]!;
}

function subtractRow(adjoints: Float64Array, to: number, from: number, lanes: number): void {
  for (let i = 0; i < lanes; i++) adjoints[to + i]! -= adjoints[from + i]!;
}

function addProducts(
  adjoints: Float64Array,
  to: number,
  from: number,
  values: Float64Array,
  factor: number,
  lanes: number,
): void {
  for (let i = 0; i < lanes; i++) adjoints[to + i]! += adjoints[from + i]! * values[factor + i]!;
}

function addQuotients(
  adjoints: Float64Array,
  to: number,
  from: number,
  values: Float64Array,
  divisor: number,
  lanes: number,
): void {
  for (let i = 0; i < lanes; i++) adjoints[to + i]! += adjoints[from + i]! / values[divisor + i]!;
}

function subtractShares(
  adjoints: Float64Array,
  to: number,
  from: number,
  values: Float64Array,
  divisor: number,
  quotient: number,
  lanes: number,
): void {
  for (let i = 0; i < lanes; i++) {
    adjoints[to + i]! -= (adjoints[from + i]! / values[divisor + i]!) * values[quotient + i]!;
  }
}

/** Powers, signs and functions. */
function otherBack(sweep: Sweep, operation: Operation, slot: number): void {
  const { lanes, values, adjoints, places, wanted } = sweep;
  const { first, second } = operation;
  const from = places[slot]!;
  const toFirst = wanted[first] === 1 ? rowOf(sweep, first) : -1;
  const toSecond = second >= 0 && wanted[second] === 1 ? rowOf(sweep, second) : -1;
  for (let i = 0; i < lanes; i++) {
    const weight = adjoints[from + i]!;
    if (weight === 0) continue;
    const a = values[first * lanes + i]!;
    const b = second < 0 ? 0 : values[second * lanes + i]!;
    const value = values[slot * lanes + i]!;
    if (toFirst >= 0) adjoints[toFirst + i]! += weight * partialByFirst(operation, a, b, value);
    if (toSecond >= 0) adjoints[toSecond + i]! += weight * partialBySecond(operation, a, b, value);
  }
}
