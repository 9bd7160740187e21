import { InputError } from '../../errors.js';
import { impliedStandardUncertainty } from '../distributions/distribution-parameters.js';
import type { InputQuantity } from '../input-quantity.js';
import { type CompiledModel, requireName } from './compile-model.js';

/**
 * Checks that the inputs are those the model names, each with a possible uncertainty.
 *
 * @throws InputError a missing, doubled, unused or wrongly named input; an estimate that is not finite; an uncertainty
 * below 0, or of 0 for a quantity that is neither exact by definition nor a component evaluated as 0 from records, or
 * other than its distribution has;
 * degrees of freedom not above 0; parts of one joint source with different degrees of freedom
 */
export function checkInputs(ready: CompiledModel, inputs: readonly InputQuantity[]): void {
  const used = new Set(ready.program.inputs);
  const equations = new Set(ready.model.equations.map((equation) => equation.name));
  const seen = new Set<string>();
  const joint = new Map<string, InputQuantity>();
  for (const input of inputs) {
    if (seen.has(input.name)) throw new InputError(`two input quantities have the name "${input.name}"`);
    if (equations.has(input.name)) {
      throw new InputError(`the name "${input.name}" stands for an input quantity and for an equation`);
    }
    requireName(input.name, 'input quantity');
    seen.add(input.name);
    checkInput(input);
    checkJoint(input, joint);
  }
  // What is missing comes first: a misspelt name in an equation leaves the input that it means unused.
  const missing = ready.program.inputs.filter((name) => !seen.has(name));
  if (missing.length > 0) {
    throw new InputError(
      `model "${ready.model.title}" needs input quantities not given: ${missing.join(', ')}`,
    );
  }
  const unused = inputs.find((input) => !used.has(input.name));
  if (unused !== undefined) {
    throw new InputError(`input quantity "${unused.name}" occurs in no equation of "${ready.model.title}"`);
  }
}

function checkInput(input: InputQuantity): void {
  const { name, estimate, standardUncertainty: u, degreesOfFreedom: nu } = input;
  if (!Number.isFinite(estimate)) {
    throw new InputError(`input "${name}": found estimate ${estimate}, expected a finite number`);
  }
  if (!(u >= 0 && Number.isFinite(u))) {
    throw new InputError(
      `input "${name}": found standard uncertainty ${u}, expected a finite number above 0`,
    );
  }
  if (u === 0 && input.sourceKind !== 'definition' && input.sourceKind !== 'records') {
    throw new InputError(
      `input "${name}": found standard uncertainty 0 from ${input.sourceKind}; only a quantity exact by ` +
        'definition, or a component that records put at 0, has none',
    );
  }
  const implied = impliedStandardUncertainty(input.distribution, estimate);
  if (implied !== undefined && !(Math.abs(u - implied) <= 1e-6 * Math.abs(implied))) {
    throw new InputError(
      `input "${name}": found standard uncertainty ${u}; the ${input.distribution.kind} distribution stated has ${implied}`,
    );
  }
  if (!(nu > 0)) {
    throw new InputError(
      `input "${name}": found ${nu} degrees of freedom, expected a number above 0 or Infinity`,
    );
  }
}

function checkJoint(input: InputQuantity, joint: Map<string, InputQuantity>): void {
  if (input.jointSource === undefined) return;
  const first = joint.get(input.jointSource);
  if (first === undefined) {
    joint.set(input.jointSource, input);
  } else if (first.degreesOfFreedom !== input.degreesOfFreedom) {
    throw new InputError(
      `inputs "${first.name}" and "${input.name}" come from one evaluation (${input.jointSource}) and have ` +
        `${first.degreesOfFreedom} and ${input.degreesOfFreedom} degrees of freedom; expected one number`,
    );
  }
}
