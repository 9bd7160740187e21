import { InputError } from '../errors.js';
import type { Budget, BudgetLine } from './budget.js';
import { coverageFactor } from './coverage-factor.js';
import { locateCorrelations } from './model/correlation-matrix.js';
import type { Propagation } from './propagate.js';

/**
 * Uncertainty budget of one output quantity: what each input contributes, and the expanded uncertainty.
 *
 * @param propagation what `propagate` returned
 * @param outputName one of its outputs
 * @param coverageProbability between 0 and 1
 * @throws InputError no such output, a probability not between 0 and 1
 * @see JCGM 100:2008, 5.1, 6.2, 6.3, Annex G
 */
export function makeBudget(propagation: Propagation, outputName: string, coverageProbability = 0.95): Budget {
  const output = propagation.outputs.find((candidate) => candidate.name === outputName);
  if (output === undefined) {
    const names = propagation.outputs.map(({ name }) => name).join(', ');
    throw new InputError(`output "${outputName}" is not among those propagated: ${names}`);
  }
  const { estimate, standardUncertainty, effectiveDegreesOfFreedom } = output;
  const factor = coverageFactor(effectiveDegreesOfFreedom, coverageProbability);
  return {
    output: output.name,
    description: output.description,
    unit: output.unit,
    estimate,
    standardUncertainty,
    effectiveDegreesOfFreedom,
    coverageProbability,
    coverageFactor: factor,
    expandedUncertainty: factor * standardUncertainty,
    lines: budgetLines(propagation, output.sensitivities, standardUncertainty),
    notes: propagation.notes,
  };
}

function budgetLines(
  { inputs, correlations }: Propagation,
  sensitivities: Readonly<Record<string, number>>,
  total: number,
): BudgetLine[] {
  const signed = inputs.map((input) => sensitivities[input.name]! * input.standardUncertainty);
  const parts = signed.map((part) => part * part);
  for (const { first, second, coefficient } of locateCorrelations(inputs, correlations)) {
    const half = coefficient * signed[first]! * signed[second]!;
    parts[first]! += half;
    parts[second]! += half;
  }
  return inputs.map((input, i) => ({
    input,
    sensitivity: sensitivities[input.name]!,
    contribution: Math.abs(signed[i]!),
    share: total === 0 ? 0 : parts[i]! / (total * total),
  }));
}
