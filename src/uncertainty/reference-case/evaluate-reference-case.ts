import { InputError } from '../../errors.js';
import { acceptanceLimits } from '../conformity/acceptance-limits.js';
import { conformanceProbability } from '../conformity/conformance-probability.js';
import { globalRisk } from '../conformity/global-risk.js';
import { normalDistribution } from '../distributions/normal.js';
import { budgetFigures } from './budget-figures.js';
import type { ReferenceCase, ReferenceComparison } from './reference-case.js';

/**
 * Computes every published figure of a case and compares it with the printed one. A file of `data/reference` whose
 * `calculation` is one of `ReferenceCase` is such a case.
 *
 * @throws InputError a figure that the case does not define, or any fault of the calculation itself
 */
export function evaluateReferenceCase(reference: ReferenceCase): ReferenceComparison[] {
  const computed = computedFigures(reference);
  return reference.published.map(({ name, printed }, index) => {
    const value = computed(name, index);
    const exception = reference.exceptions?.find((candidate) => candidate.name === name);
    const agrees = roundsTo(value, printed);
    return { name, printed, computed: value, agrees, ...(exception === undefined ? {} : { exception }) };
  });
}

function computedFigures(reference: ReferenceCase): (name: string, index: number) => number {
  if (reference.calculation === 'budget') {
    const figure = budgetFigures(reference.budget);
    return (_name, index) => {
      const { figure: wanted, multiplier = 1 } = reference.published[index]!;
      return figure(wanted) * multiplier;
    };
  }
  const figures = new Map(Object.entries(namedFigures(reference)));
  return (name) => {
    const value = figures.get(name);
    if (value !== undefined) return value;
    const known = [...figures.keys()].join(', ');
    throw new InputError(`case "${reference.id}": no figure "${name}"; expected one of ${known}`);
  };
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
 * @example
 * roundsTo(1.2849, '1.28') // => true
 */
export function roundsTo(value: number, printed: string): boolean {
  const [mantissa = '', exponent = '0'] = printed.toLowerCase().split('e');
  const decimals = mantissa.split('.')[1]?.length ?? 0;
  const unit = 10 ** (Number(exponent) - decimals);
  return Math.abs(value - Number(printed)) <= unit / 2 + Math.abs(value) * 1e-14;
}
