import { InputError } from '../../errors.js';
import type { BudgetFile } from '../budget-file/budget-file.js';
import { inputsOfBudgetFile } from '../budget-file/inputs-of-budget-file.js';
import { simulateInThread } from '../simulation/simulate.js';
import type { SimulatedOutput } from '../simulation/simulation.js';
import type { ReferenceSimulation, SimulatedFigure } from './reference-case.js';

/** A simulated figure, and the standard error of its difference from the printed one. */
export interface FigureWithError {
  readonly value: number;
  readonly standardError: number;
}

/**
 * Figures of a simulated budget file, on request. A printed figure of so many trials has a numerical error of its own,
 * independent of ours.
 *
 * @returns a function from a figure to its value with standard error
 * @throws InputError a figure of an output that the budget lacks, or one that does not exist
 */
export function simulatedFigures(
  file: BudgetFile,
  { seed, trials }: ReferenceSimulation,
): (figure: SimulatedFigure) => FigureWithError {
  const { inputs, correlations } = inputsOfBudgetFile(file);
  const model = { title: file.title, equations: file.equations, outputs: file.outputs };
  const { coverageProbability = 0.95 } = file;
  const { outputs } = simulateInThread(model, inputs, correlations, { seed, trials, coverageProbability });
  return ({ of, output, publishedTrials = Infinity }) => {
    const simulated = outputs.find(({ name }) => name === output);
    if (simulated === undefined) throw new InputError(`the budget has nothing named "${output}"`);
    const [value, standardError] = figureOf(of, simulated);
    if (value === null || standardError === null) throw new InputError(`${output}: no ${of} exists`);
    return { value, standardError: standardError * Math.sqrt(1 + trials / publishedTrials) };
  };
}

function figureOf(of: SimulatedFigure['of'], simulated: SimulatedOutput): [number | null, number | null] {
  const { symmetric, shortest, numericalStandardErrors: errors } = simulated;
  switch (of) {
    case 'simulated estimate':
      return [simulated.estimate, errors.estimate];
    case 'simulated standard uncertainty':
      return [simulated.standardUncertainty, errors.standardUncertainty];
    case 'simulated lower end':
      return [symmetric.low, errors.symmetricLow];
    case 'simulated upper end':
      return [symmetric.high, errors.symmetricHigh];
    case 'shortest lower end':
      return [shortest.low, errors.shortestLow];
    case 'shortest upper end':
      return [shortest.high, errors.shortestHigh];
  }
}
