import { InputError } from '../../errors.js';
import { evaluateProgram, gradientOf } from '../expression/evaluate-program.js';
import type { InputQuantity } from '../input-quantity.js';
import type { MeasurementModel } from '../measurement-model.js';
import { checkInputs } from '../model/check-inputs.js';
import { type CompiledModel, compileModel } from '../model/compile-model.js';

/** One sensitivity coefficient by three ways. */
export interface SensitivityCheck {
  readonly output: string;
  readonly input: string;
  /** Exact derivative. */
  readonly coefficient: number;
  /** Numerical derivative from values of the model only. */
  readonly numerical: number;
  /** |numerical − coefficient| over the coefficient, or over the smallest that differences can show. */
  readonly relativeDifference: number;
  readonly agrees: boolean;
  /**
   * ½·[f(x + u) − f(x − u)]/u: the coefficient over the width of the uncertainty. Where it differs from the derivative,
   * the model bends there. `null` where u is 0 or the model has no value at one of the ends.
   */
  readonly overUncertainty: number | null;
}

/** Largest relative difference that counts as agreement. */
const allowed = 1e-6;

/**
 * Check of every sensitivity coefficient of every output against differences of the model's values.
 *
 * @throws InputError inputs that do not fit the model, no finite value at the estimates
 * @see JCGM 100:2008, 5.1.3 note 2 (coefficients from differences)
 */
export function numericalSensitivities(
  model: MeasurementModel | CompiledModel,
  inputs: readonly InputQuantity[],
): SensitivityCheck[] {
  const ready = 'program' in model ? model : compileModel(model);
  checkInputs(ready, inputs);
  const { program } = ready;
  const given = program.inputs.map((name) => inputs.find((input) => input.name === name)!);
  const point = given.map((input) => input.estimate);
  const values = evaluateProgram(program, point);
  return ready.outputEquations.flatMap((equation) => {
    const slot = program.results[equation]!;
    const gradient = gradientOf(program, values, slot);
    const scales = given.map((input) => Math.max(Math.abs(input.estimate), input.standardUncertainty) || 1);
    const reach = Math.max(
      Math.abs(values[slot]!),
      ...scales.map((scale, k) => Math.abs(gradient[k]! * scale)),
    );
    return given.map((input, i): SensitivityCheck => {
      const along = (step: number): number => {
        const moved = point.map((x, k) => (k === i ? x + step : x));
        return evaluateProgram(program, moved)[slot]!;
      };
      const coefficient = gradient[i]!;
      const numerical = extrapolatedSlope(along, 0.01 * scales[i]!);
      const visible = Math.max(Math.abs(coefficient), (1e-6 * reach) / scales[i]!, Number.MIN_VALUE);
      const relativeDifference = Math.abs(numerical - coefficient) / visible;
      return {
        output: ready.model.equations[equation]!.name,
        input: input.name,
        coefficient,
        numerical,
        relativeDifference,
        agrees: relativeDifference <= allowed,
        overUncertainty: slopeOver(along, input.standardUncertainty),
      };
    });
  });
}

function slopeOver(along: (step: number) => number, u: number): number | null {
  if (u === 0) return null;
  try {
    return (along(u) - along(-u)) / (2 * u);
  } catch (error) {
    if (error instanceof InputError) return null;
    throw error;
  }
}

/** Ridders's method: central differences of shrinking steps, extrapolated to step 0. */
function extrapolatedSlope(along: (step: number) => number, firstStep: number): number {
  let rows: number[] = [];
  let best = Number.NaN;
  let error = Infinity;
  let step = firstStep;
  for (let k = 0; k < 24; k++, step /= 1.6) {
    const slope = centralDifference(along, step);
    if (slope === undefined) continue;
    const row = [slope];
    let factor = 1.6 * 1.6;
    for (let j = 1; j <= rows.length; j++) {
      const value = (row[j - 1]! * factor - rows[j - 1]!) / (factor - 1);
      const spread = Math.max(Math.abs(value - row[j - 1]!), Math.abs(value - rows[j - 1]!));
      if (spread <= error) {
        error = spread;
        best = value;
      }
      row.push(value);
      factor *= 1.6 * 1.6;
    }
    if (rows.length > 2 && Math.abs(row.at(-1)! - rows.at(-1)!) > 8 * error) break;
    rows = row;
  }
  if (Number.isNaN(best)) throw new InputError('the model has no finite values near the estimates');
  return best;
}

/** Nothing where the step leaves the range in which the model has a value; a smaller step follows. */
function centralDifference(along: (step: number) => number, step: number): number | undefined {
  try {
    return (along(step) - along(-step)) / (2 * step);
  } catch (error) {
    if (error instanceof InputError) return undefined;
    throw error;
  }
}
