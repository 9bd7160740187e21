import { InputError } from '../../errors.js';
import { placeOf } from './evaluate-program.js';
import { addJets, applyToJets, type Jet, multiplyJets, partialJets } from './jet.js';
import type { Program } from './program.js';

/** How the gradient of a quantity changes along a direction d of the inputs. */
export interface DirectionalGradient {
  /** ∂f/∂xᵢ. */
  readonly gradient: readonly number[];
  /** Σⱼ ∂²f/∂xᵢ∂xⱼ·dⱼ. */
  readonly first: readonly number[];
  /** Σⱼₖ ∂³f/∂xᵢ∂xⱼ∂xₖ·dⱼ·dₖ. */
  readonly second: readonly number[];
}

/**
 * Gradient of one slot and its first two derivatives along a direction: polynomials in the step are carried forward
 * through the program, then the chain rule runs back over them (exact up to rounding).
 *
 * @param inputs values in the order of `program.inputs`
 * @param direction one component an input
 * @param result slot of the quantity
 * @throws InputError a derivative that is not finite
 */
export function directionalGradient(
  program: Program,
  inputs: ArrayLike<number>,
  direction: ArrayLike<number>,
  result: number,
): DirectionalGradient {
  const count = program.inputs.length;
  const jets: Jet[] = [];
  for (let i = 0; i < count; i++) jets.push([inputs[i]!, direction[i]!, 0]);
  for (const constant of program.constants) jets.push([constant, 0, 0]);
  const base = jets.length;
  const second = (index: number): Jet => (index < 0 ? [0, 0, 0] : jets[index]!);
  for (const operation of program.operations) {
    jets.push(applyToJets(operation, jets[operation.first]!, second(operation.second)));
  }
  const adjoint: Jet[] = jets.map((_, slot) => (slot === result ? [1, 0, 0] : [0, 0, 0]));
  for (let i = result - base; i >= 0; i--) {
    const operation = program.operations[i]!;
    const weight = adjoint[base + i]!;
    if (weight.every((part) => part === 0)) continue;
    const { first: a, second: b } = operation;
    const [byFirst, bySecond] = partialJets(operation, jets[a]!, second(b), jets[base + i]!);
    if (a < count || a >= base) adjoint[a] = addJets(adjoint[a]!, multiplyJets(weight, byFirst));
    if (b >= base || (b >= 0 && b < count)) adjoint[b] = addJets(adjoint[b]!, multiplyJets(weight, bySecond));
    if (![a, b].every((slot) => slot < 0 || isFiniteJet(adjoint[slot]!))) {
      throw new InputError(`${placeOf(operation)}: a derivative up to the third order is not finite there`);
    }
  }
  return {
    gradient: adjoint.slice(0, count).map((jet) => jet[0]),
    first: adjoint.slice(0, count).map((jet) => jet[1]),
    second: adjoint.slice(0, count).map((jet) => 2 * jet[2]),
  };
}

function isFiniteJet(jet: Jet): boolean {
  return jet.every((part) => Number.isFinite(part));
}
