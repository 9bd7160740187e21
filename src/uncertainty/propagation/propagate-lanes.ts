import { InputError } from '../../errors.js';
import { placeOf } from '../expression/evaluate-program.js';
import { applyOperation, partialByFirst, partialBySecond } from '../expression/operate.js';
import type { Operation, Program } from '../expression/program.js';

/** One input over many points: a value a point, a few values that come again and again, or one for all points. */
export type Lane = Float64Array | number;

/** A correlation by the positions of its inputs. */
export interface LaneCorrelation {
  readonly first: number;
  readonly second: number;
  readonly coefficient: Lane;
}

/** Estimates and standard uncertainties of the inputs of a program at many points, in the order of `program.inputs`. */
export interface LaneInputs {
  /** Points. */
  readonly lanes: number;
  readonly estimates: readonly Lane[];
  readonly standardUncertainties: readonly Lane[];
  readonly correlations: readonly LaneCorrelation[];
}

/** One quantity at many points. */
export interface LaneResult {
  readonly estimates: Float64Array;
  readonly standardUncertainties: Float64Array;
}

/** One row of lanes a slot: values, and derivatives of the result by each slot. */
export class LaneMemory {
  values: Float64Array = new Float64Array(0);
  adjoints: Float64Array = new Float64Array(0);

  reserve(length: number): void {
    if (this.values.length >= length) return;
    this.values = new Float64Array(length);
    this.adjoints = new Float64Array(length);
  }
}

/**
 * Values of one slot at many points.
 * @throws InputError a value that is not finite
 */
export function evaluateLanes(
  program: Program,
  inputs: Pick<LaneInputs, 'lanes' | 'estimates'>,
  result: number,
  memory: LaneMemory,
): Float64Array {
  const { lanes } = inputs;
  const { values } = reserved(memory, program, lanes);
  for (const [slot, lane] of inputs.estimates.entries()) fillLane(values, slot * lanes, lane, lanes);
  const count = program.inputs.length;
  for (const [i, value] of program.constants.entries())
    values.fill(value, (count + i) * lanes, (count + i + 1) * lanes);
  const base = count + program.constants.length;
  const last = Math.max(result - base, -1);
  for (let i = 0; i <= last; i++) {
    const operation = program.operations[i]!;
    applyToLanes(operation, values, (base + i) * lanes, lanes);
  }
  const found = values.slice(result * lanes, (result + 1) * lanes);
  const bad = found.findIndex((value) => !Number.isFinite(value));
  if (bad >= 0) {
    const place = result < base ? 'an input' : placeOf(program.operations[result - base]!);
    throw new InputError(`${place}, point ${bad + 1}: found ${found[bad]}; expected a finite number`);
  }
  return found;
}

/**
 * Values of one slot at many points, with its derivatives by each slot: `derivatives[slot · lanes + lane]`, good until the memory
 * is used again.
 * @throws InputError a value that is not finite
 */
export function differentiateLanes(
  program: Program,
  inputs: Pick<LaneInputs, 'lanes' | 'estimates'>,
  result: number,
  memory: LaneMemory,
): { readonly values: Float64Array; readonly derivatives: Float64Array } {
  const values = evaluateLanes(program, inputs, result, memory);
  gradientOfLanes(program, inputs.lanes, result, memory);
  return { values, derivatives: memory.adjoints };
}

/**
 * Law of propagation of uncertainty, first order, for one model at many points: the equations are the same, the inputs
 * are not. For results by the thousand; units, divisors and inputs are checked by `propagate` at one point beforehand.
 *
 * @param result slot of the output quantity
 * @throws InputError a value or derivative that is not finite
 * @see JCGM 100:2008, 5.1.2 and 5.2.2
 */
export function propagateLanes(
  program: Program,
  inputs: LaneInputs,
  result: number,
  memory: LaneMemory,
): LaneResult {
  const { lanes } = inputs;
  const estimates = evaluateLanes(program, inputs, result, memory);
  gradientOfLanes(program, lanes, result, memory);
  const { adjoints } = memory;
  const variances = new Float64Array(lanes);
  for (const [slot, u] of inputs.standardUncertainties.entries())
    addVariance(variances, adjoints, slot * lanes, u);
  for (const { first, second, coefficient } of inputs.correlations) {
    const [u, v] = [inputs.standardUncertainties[first]!, inputs.standardUncertainties[second]!];
    for (let lane = 0; lane < lanes; lane++) {
      const a = adjoints[first * lanes + lane]! * at(u, lane);
      variances[lane]! += 2 * at(coefficient, lane) * a * adjoints[second * lanes + lane]! * at(v, lane);
    }
  }
  const standardUncertainties = variances.map((variance) => Math.sqrt(Math.max(0, variance)));
  const bad = variances.findIndex((variance) => !Number.isFinite(variance));
  if (bad >= 0) throw new InputError(`point ${bad + 1}: the result has no finite derivative there`);
  return { estimates, standardUncertainties };
}

function at(lane: Lane, index: number): number {
  return typeof lane === 'number' ? lane : lane[index % lane.length]!;
}

function reserved(memory: LaneMemory, program: Program, lanes: number): LaneMemory {
  memory.reserve(program.slots * lanes);
  return memory;
}

function fillLane(values: Float64Array, from: number, lane: Lane, lanes: number): void {
  if (typeof lane === 'number') values.fill(lane, from, from + lanes);
  else for (let at = 0; at < lanes; at += lane.length) values.set(lane, from + at);
}

function addVariance(variances: Float64Array, adjoints: Float64Array, from: number, u: Lane): void {
  if (u === 0) return;
  if (typeof u === 'number') {
    for (let lane = 0; lane < variances.length; lane++) {
      const part = adjoints[from + lane]! * u;
      variances[lane]! += part * part;
    }
    return;
  }
  for (let first = 0; first < variances.length; first += u.length) {
    for (let i = 0; i < u.length; i++) {
      const part = adjoints[from + first + i]! * u[i]!;
      variances[first + i]! += part * part;
    }
  }
}

function applyToLanes(operation: Operation, values: Float64Array, to: number, lanes: number): void {
  const a = operation.first * lanes;
  const b = operation.second * lanes;
  switch (operation.name) {
    case 'add':
      for (let i = 0; i < lanes; i++) values[to + i] = values[a + i]! + values[b + i]!;
      return;
    case 'subtract':
      for (let i = 0; i < lanes; i++) values[to + i] = values[a + i]! - values[b + i]!;
      return;
    case 'multiply':
      for (let i = 0; i < lanes; i++) values[to + i] = values[a + i]! * values[b + i]!;
      return;
    case 'divide':
      for (let i = 0; i < lanes; i++) values[to + i] = values[a + i]! / values[b + i]!;
      return;
    default:
      for (let i = 0; i < lanes; i++) {
        const second = operation.second < 0 ? 0 : values[b + i]!;
        values[to + i] = applyOperation(operation, values[a + i]!, second);
      }
  }
}

/** Leaves the derivatives of the result by each slot in the memory's adjoints. */
function gradientOfLanes(program: Program, lanes: number, result: number, memory: LaneMemory): void {
  const { values, adjoints } = memory;
  const base = program.inputs.length + program.constants.length;
  adjoints.fill(0, 0, (result + 1) * lanes);
  adjoints.fill(1, result * lanes, (result + 1) * lanes);
  for (let i = result - base; i >= 0; i--) {
    backThroughLanes(program.operations[i]!, values, adjoints, (base + i) * lanes, lanes);
  }
}

function backThroughLanes(
  operation: Operation,
  values: Float64Array,
  adjoints: Float64Array,
  from: number,
  lanes: number,
): void {
  const a = operation.first * lanes;
  const b = operation.second * lanes;
  switch (operation.name) {
    case 'add':
    case 'subtract': {
      const sign = operation.name === 'add' ? 1 : -1;
      for (let i = 0; i < lanes; i++) {
        const weight = adjoints[from + i]!;
        adjoints[a + i]! += weight;
        adjoints[b + i]! += sign * weight;
      }
      return;
    }
    case 'multiply':
      for (let i = 0; i < lanes; i++) {
        const weight = adjoints[from + i]!;
        adjoints[a + i]! += weight * values[b + i]!;
        adjoints[b + i]! += weight * values[a + i]!;
      }
      return;
    case 'divide':
      for (let i = 0; i < lanes; i++) {
        const share = adjoints[from + i]! / values[b + i]!;
        adjoints[a + i]! += share;
        adjoints[b + i]! -= share * values[from + i]!;
      }
      return;
    default:
      otherBackThroughLanes(operation, values, adjoints, from, lanes);
  }
}

function otherBackThroughLanes(
  operation: Operation,
  values: Float64Array,
  adjoints: Float64Array,
  from: number,
  lanes: number,
): void {
  const { first, second } = operation;
  for (let i = 0; i < lanes; i++) {
    const weight = adjoints[from + i]!;
    if (weight === 0) continue;
    const a = values[first * lanes + i]!;
    const b = second < 0 ? 0 : values[second * lanes + i]!;
    const value = values[from + i]!;
    adjoints[first * lanes + i]! += weight * partialByFirst(operation, a, b, value);
    if (second >= 0) adjoints[second * lanes + i]! += weight * partialBySecond(operation, a, b, value);
  }
}
