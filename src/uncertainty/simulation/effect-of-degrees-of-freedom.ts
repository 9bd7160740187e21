import type { Program } from '../expression/program.js';
import type { InputQuantity } from '../input-quantity.js';

/** What limited degrees of freedom do to one output. */
export interface DegreesOfFreedomEffect {
  /** Whether the output has a standard deviation; with a t distribution of ν ≤ 2 it has none. */
  readonly hasVariance: boolean;
  readonly notes: readonly string[];
}

/** Below this, the widening √(ν/(ν − 2)) is more than a tenth. */
const few = 10;

/**
 * What the t distributions among the inputs do to an output: for ν ≤ 2 it has quantiles only; for 2 < ν < 10 its standard
 * uncertainty is visibly larger than that of the law of propagation.
 *
 * @param inputs in the order of the program
 * @param result slot of the output
 * @see JCGM 101:2008, 6.4.9
 */
export function effectOfDegreesOfFreedom(
  program: Program,
  inputs: readonly InputQuantity[],
  result: number,
): DegreesOfFreedomEffect {
  const entering = inputsOf(program, result).map((slot) => inputs[slot]!);
  const limited = entering.filter(
    ({ distribution, standardUncertainty, degreesOfFreedom }) =>
      distribution.kind === 't' && standardUncertainty > 0 && degreesOfFreedom < few,
  );
  const without = limited.filter(({ degreesOfFreedom }) => degreesOfFreedom <= 2);
  const notes = limited.filter((input) => !without.includes(input)).map(widening);
  if (without.length > 0) {
    const names = without.map(({ name, degreesOfFreedom: nu }) => `${name} (${nu})`).join(', ');
    notes.push(
      `no standard uncertainty exists: t distributions of 2 degrees of freedom or fewer enter: ${names}; ` +
        'the estimate is the median of the trials, and the intervals hold',
    );
  }
  return { hasVariance: without.length === 0, notes };
}

function widening({ name, degreesOfFreedom: nu }: InputQuantity): string {
  const factor = Math.sqrt(nu / (nu - 2)).toPrecision(3);
  return (
    `${name} has ${Number(nu.toPrecision(3))} degrees of freedom: its t distribution has ${factor} times the standard ` +
    'uncertainty that the law of propagation uses, so that a larger standard uncertainty is expected here'
  );
}

/** Slots of the inputs that a result is made of. */
function inputsOf(program: Program, result: number): number[] {
  const base = program.inputs.length + program.constants.length;
  const isNeeded = new Uint8Array(program.slots);
  isNeeded[result] = 1;
  for (let i = program.operations.length - 1; i >= 0; i--) {
    if (isNeeded[base + i] === 0) continue;
    const { first, second } = program.operations[i]!;
    isNeeded[first] = 1;
    if (second >= 0) isNeeded[second] = 1;
  }
  return program.inputs.flatMap((_, slot) => (isNeeded[slot] === 1 ? [slot] : []));
}
