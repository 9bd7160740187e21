import { InputError } from '../../errors.js';
import { placeOf } from '../expression/evaluate-program.js';
import { applyOperation } from '../expression/operate.js';
import type { Operation, Program } from '../expression/program.js';
import { gradientOfLanes } from './lane-gradient.js';

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

/** One row of lanes a slot: values, and room for the derivatives of the result. */
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
  memory.reserve(program.slots * lanes);
  const { values } = memory;
  const { operations } = program;
  const base = program.inputs.length + program.constants.length;
  const isOneNumber = fillInputs(program, inputs, values);
  for (let slot = base; slot <= result; slot++) {
    const operation = operations[slot - base]!;
    const { first, second } = operation;
    if (isOneNumber[first] === 1 && (second < 0 || isOneNumber[second] === 1)) {
      isOneNumber[slot] = 1;
      const value = applyOperation(
        operation,
        values[first * lanes]!,
        second < 0 ? 0 : values[second * lanes]!,
      );
      values.fill(value, slot * lanes, (slot + 1) * lanes);
    } else applyToLanes(operation, values, slot * lanes, lanes);
  }
  const found = values.slice(result * lanes, (result + 1) * lanes);
  const bad = firstNotFinite(found);
  if (bad >= 0) {
    const place = result < base ? 'an input' : placeOf(operations[result - base]!);
    throw new InputError(`${place}, point ${bad + 1}: found ${found[bad]}; expected a finite number`);
  }
  return found;
}

/** Inputs and constants, a row of lanes each; returns 1 for each slot that is one number for all points. */
function fillInputs(
  program: Program,
  { lanes, estimates }: Pick<LaneInputs, 'lanes' | 'estimates'>,
  values: Float64Array,
): Uint8Array {
  const isOneNumber = new Uint8Array(program.slots);
  const count = program.inputs.length;
  for (let slot = 0; slot < count; slot++) {
    const lane = estimates[slot]!;
    fillLane(values, slot * lanes, lane, lanes);
    if (typeof lane === 'number') isOneNumber[slot] = 1;
  }
  for (let i = 0; i < program.constants.length; i++) {
    fillLane(values, (count + i) * lanes, program.constants[i]!, lanes);
    isOneNumber[count + i] = 1;
  }
  return isOneNumber;
}

function firstNotFinite(values: Float64Array): number {
  for (let i = 0; i < values.length; i++) if (!Number.isFinite(values[i])) return i;
  return -1;
}

/**
 * Values of one slot at many points, with its derivatives by each input: `derivatives[input · lanes + lane]`, good until the memory
 * is used again.
 * @throws InputError a value that is not finite
 */
export function differentiateLanes(
  program: Program,
  inputs: Pick<LaneInputs, 'lanes' | 'estimates'>,
  result: number,
  memory: LaneMemory,
): { readonly values: Float64Array; readonly derivatives: Float64Array } {
  const { lanes } = inputs;
  const found = evaluateLanes(program, inputs, result, memory);
  const { values, adjoints } = memory;
  const count = program.inputs.length;
  const places = gradientOfLanes(program, lanes, result, values, adjoints, new Uint8Array(count).fill(1));
  for (let slot = 0; slot < count; slot++) {
    const [from, to] = [places[slot]!, slot * lanes];
    if (from < 0) adjoints.fill(0, to, to + lanes);
    else if (from !== to) adjoints.copyWithin(to, from, from + lanes);
  }
  return { values: found, derivatives: adjoints };
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
  const { values, adjoints } = memory;
  const us = inputs.standardUncertainties;
  // An exact input takes no derivative.
  const isUncertain = new Uint8Array(us.length);
  for (let slot = 0; slot < us.length; slot++) if (us[slot] !== 0) isUncertain[slot] = 1;
  const places = gradientOfLanes(program, lanes, result, values, adjoints, isUncertain);
  const variances = new Float64Array(lanes);
  for (let slot = 0; slot < us.length; slot++) {
    if (places[slot]! >= 0) addVariance(variances, adjoints, places[slot]!, us[slot]!);
  }
  for (const { first, second, coefficient } of inputs.correlations) {
    if (places[first]! < 0 || places[second]! < 0) continue;
    const [u, v] = [asRow(us[first]!, lanes), asRow(us[second]!, lanes)];
    addCovariance(variances, adjoints, places[first]!, u, places[second]!, v, asRow(coefficient, lanes));
  }
  const bad = firstNotFinite(variances);
  if (bad >= 0) throw new InputError(`point ${bad + 1}: the result has no finite derivative there`);
  for (let lane = 0; lane < lanes; lane++) variances[lane] = Math.sqrt(Math.max(0, variances[lane]!));
  return { estimates, standardUncertainties: variances };
}

/** A number a point. */
function asRow(lane: Lane, lanes: number): Float64Array {
  if (typeof lane !== 'number' && lane.length === lanes) return lane;
  const row = new Float64Array(lanes);
  fillLane(row, 0, lane, lanes);
  return row;
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

function addCovariance(
  variances: Float64Array,
  adjoints: Float64Array,
  first: number,
  u: Float64Array,
  second: number,
  v: Float64Array,
  coefficient: Float64Array,
): void {
  for (let lane = 0; lane < variances.length; lane++) {
    const a = adjoints[first + lane]! * u[lane]!;
    variances[lane]! += 2 * coefficient[lane]! * a * adjoints[second + lane]! * v[lane]!;
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
