import { InputError } from '../../errors.js';
import { roundToUncertainty } from '../../quantities/rounding.js';
import type { Budget } from '../budget.js';
import type { BudgetFile } from '../budget-file/budget-file.js';
import { evaluateBudgetFile } from '../budget-file/evaluate-budget-file.js';
import { coverageFactor } from '../coverage-factor.js';
import type { InputQuantity } from '../input-quantity.js';
import type { Propagation } from '../propagate.js';
import { type SecondOrderTerms, secondOrderTerms } from '../propagation/second-order-terms.js';
import type { BudgetFigure, InputFigureName, OutputFigureName } from './reference-case.js';

/**
 * Figures of an evaluated budget file, on request.
 *
 * @returns a function from a figure to its value
 * @throws InputError a figure of an output or input that the budget lacks
 */
export function budgetFigures(file: BudgetFile): (figure: BudgetFigure) => number {
  const { propagation, budgets } = evaluateBudgetFile(file);
  const budgetOf = (output: string): Budget =>
    found(
      budgets.find((b) => b.output === output),
      output,
    );
  const second = (output: string): SecondOrderTerms =>
    secondOrderTerms(propagation.model, propagation.inputs, propagation.correlations, output);
  return (figure) => {
    switch (figure.of) {
      case 'input estimate':
      case 'input standard uncertainty':
      case 'input degrees of freedom':
      case 'observed standard deviation':
        return inputFigure(figure.of, figure.input, propagation, file);
      case 'input correlation':
        return inputCorrelation(figure.first, figure.second, propagation);
      case 'output correlation':
        return outputCorrelation(figure.first, figure.second, propagation);
      case 'contribution':
        return contribution(budgetOf(figure.output), figure.input);
      case 'relative contribution':
        return (
          contribution(budgetOf(figure.output), figure.input) / Math.abs(budgetOf(figure.output).estimate)
        );
      case 'rounded estimate': {
        const { estimate, standardUncertainty } = budgetOf(figure.output);
        return roundToUncertainty(estimate, standardUncertainty, figure.digits).value;
      }
      case 'second-order term':
        return secondOrderTerm(second(figure.output), figure.pairs);
      case 'second-order mean':
        return second(figure.output).estimate + second(figure.output).meanShift;
      case 'second-order standard uncertainty':
        return second(figure.output).standardUncertainty;
      default:
        return outputFigure(figure.of, budgetOf(figure.output));
    }
  };
}

function found<T>(item: T | undefined, name: string): T {
  if (item === undefined) throw new InputError(`the budget has nothing named "${name}"`);
  return item;
}

function inputFigure(of: InputFigureName, name: string, propagation: Propagation, file: BudgetFile): number {
  const input: InputQuantity = found(
    propagation.inputs.find((candidate) => candidate.name === name),
    name,
  );
  switch (of) {
    case 'input estimate':
      return input.estimate;
    case 'input standard uncertainty':
      return input.standardUncertainty;
    case 'input degrees of freedom':
      return input.degreesOfFreedom;
    case 'observed standard deviation': {
      const stated = file.inputs.find((candidate) => candidate.name === name)!;
      if (stated.from !== 'observations') throw new InputError(`input "${name}" has no observations`);
      return input.standardUncertainty * Math.sqrt(stated.values.length);
    }
  }
}

function isPair(pair: { readonly first: string; readonly second: string }, a: string, b: string): boolean {
  return (pair.first === a && pair.second === b) || (pair.first === b && pair.second === a);
}

function inputCorrelation(first: string, second: string, { correlations }: Propagation): number {
  return found(
    correlations.find((pair) => isPair(pair, first, second)),
    `${first}, ${second}`,
  ).coefficient;
}

function outputCorrelation(first: string, second: string, { outputs, covariance }: Propagation): number {
  const i = outputs.findIndex(({ name }) => name === first);
  const j = outputs.findIndex(({ name }) => name === second);
  const u = found(outputs[i], first).standardUncertainty * found(outputs[j], second).standardUncertainty;
  return covariance[i]![j]! / u;
}

function contribution(budget: Budget, input: string): number {
  return found(
    budget.lines.find((line) => line.input.name === input),
    input,
  ).contribution;
}

function secondOrderTerm(terms: SecondOrderTerms, pairs: readonly (readonly [string, string])[]): number {
  const variances = pairs.map(
    ([a, b]) =>
      found(
        terms.pairs.find((pair) => isPair(pair, a, b)),
        `${a}, ${b}`,
      ).variance,
  );
  return Math.sqrt(variances.reduce((sum, variance) => sum + variance, 0));
}

function outputFigure(of: OutputFigureName, budget: Budget): number {
  const { estimate, standardUncertainty: u, expandedUncertainty, effectiveDegreesOfFreedom: nu } = budget;
  const whole = (): number => coverageFactor(Math.floor(nu), budget.coverageProbability);
  switch (of) {
    case 'estimate':
      return estimate;
    case 'standard uncertainty':
      return u;
    case 'relative standard uncertainty':
      return u / Math.abs(estimate);
    case 'effective degrees of freedom':
      return nu;
    case 'coverage factor':
      return budget.coverageFactor;
    case 'expanded uncertainty':
      return expandedUncertainty;
    case 'coverage factor for whole degrees of freedom':
      return whole();
    case 'expanded uncertainty for whole degrees of freedom':
      return whole() * u;
    case 'lower end':
      return estimate - expandedUncertainty;
    case 'upper end':
      return estimate + expandedUncertainty;
  }
}
