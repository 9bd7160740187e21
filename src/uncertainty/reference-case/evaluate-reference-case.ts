import { InputError } from '../../errors.js';
import { acceptanceLimits } from '../conformity/acceptance-limits.js';
import { conformanceProbability } from '../conformity/conformance-probability.js';
import { globalRisk } from '../conformity/global-risk.js';
import { normalDistribution } from '../distributions/normal.js';
import { budgetFigures } from './budget-figures.js';
import type { BudgetFigure, ReferenceCase, ReferenceComparison, SimulatedFigure } from './reference-case.js';
import { type FigureWithError, simulatedFigures } from './simulated-figures.js';

/**
 * Computes every published figure of a case and compares it with the printed one. A file of `data/reference` whose
 * `calculation` is one of `ReferenceCase` is such a case.
 *
 * @throws InputError a figure that the case does not define, or any fault of the calculation itself
 */
export function evaluateReferenceCase(reference: ReferenceCase): ReferenceComparison[] {
  const computed = computedFigures(reference);
  return reference.published.map(({ name, printed }, index) => {
    const { value, standardError } = computed(name, index);
    const exception = reference.exceptions?.find((candidate) => candidate.name === name);
    const agrees = roundsTo(value, printed, 3 * standardError);
    return {
      name,
      printed,
      computed: value,
      agrees,
      ...(standardError === 0 ? {} : { standardError }),
      ...(exception === undefined ? {} : { exception }),
    };
  });
}

function computedFigures(reference: ReferenceCase): (name: string, index: number) => FigureWithError {
  if (reference.calculation === 'budget') return computedBudgetFigures(reference);
  const figures = new Map(Object.entries(namedFigures(reference)));
  return (name) => {
    const value = figures.get(name);
    if (value !== undefined) return { value, standardError: 0 };
    const known = [...figures.keys()].join(', ');
    throw new InputError(`case "${reference.id}": no figure "${name}"; expected one of ${known}`);
  };
}

function computedBudgetFigures(
  reference: Extract<ReferenceCase, { readonly calculation: 'budget' }>,
): (name: string, index: number) => FigureWithError {
  const { budget, simulation, published } = reference;
  const exact = budgetFigures(budget);
  const simulated = simulation === undefined ? null : simulatedFigures(budget, simulation);
  return (name, index) => {
    const { figure, multiplier = 1 } = published[index]!;
    if (!isSimulated(figure)) return { value: exact(figure) * multiplier, standardError: 0 };
    if (simulated === null)
      throw new InputError(`case "${reference.id}": "${name}" is simulated, expected seed and trials`);
    const { value, standardError } = simulated(figure);
    return { value: value * multiplier, standardError: standardError * Math.abs(multiplier) };
  };
}

function isSimulated(figure: BudgetFigure | SimulatedFigure): figure is SimulatedFigure {
  return figure.of.startsWith('simulated ') || figure.of.startsWith('shortest ');
}

function namedFigures(
  reference: Exclude<ReferenceCase, { readonly calculation: 'budget' }>,
): Record<string, number> {
  switch (reference.calculation) {
    case 'conformance probability':
      return Object.fromEntries(
        reference.items.map(({ name, estimate, standardUncertainty, limits }) => [
          name,
          conformanceProbability(normalDistribution(estimate, standardUncertainty), limits),
        ]),
      );
    case 'acceptance limit': {
      const { limits, relativeStandardUncertainty, rule } = reference;
      const { lower, upper, guardFactor } = acceptanceLimits(limits, { relativeStandardUncertainty }, rule);
      return {
        'guard factor': Math.abs(guardFactor),
        ...(lower === undefined ? {} : { 'lower limit': lower }),
        ...(upper === undefined ? {} : { 'upper limit': upper }),
      };
    }
    case 'global risk': {
      const { process, standardUncertainty, tolerance, acceptance } = reference;
      return { ...globalRisk(process, standardUncertainty, tolerance, acceptance) };
    }
  }
}

/**
 * Whether a value is within half a unit of the last digit of a printed figure, rounding of the value itself allowed.
 *
 * @param margin what a simulated value may lie beyond that
 * @example
 * roundsTo(1.2849, '1.28') // => true
 */
export function roundsTo(value: number, printed: string, margin = 0): boolean {
  const [mantissa = '', exponent = '0'] = printed.toLowerCase().split('e');
  const decimals = mantissa.split('.')[1]?.length ?? 0;
  const unit = 10 ** (Number(exponent) - decimals);
  return Math.abs(value - Number(printed)) <= unit / 2 + Math.abs(value) * 1e-14 + margin;
}
