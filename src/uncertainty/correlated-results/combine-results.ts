import { InputError } from '../../errors.js';
import { type CorrelatedResult, type SourcePart, standardUncertaintyOf } from './correlated-result.js';

/** A result times a number, as a term of a sum. */
export interface ResultTerm {
  readonly result: CorrelatedResult;
  readonly coefficient: number;
}

/**
 * Sum of results times coefficients: totals, differences, means. What the results share adds up with its sign.
 *
 * @param unit of the sum; the coefficients bring each result to it
 * @throws InputError no term
 */
export function sumOfResults(name: string, unit: string, terms: readonly ResultTerm[]): CorrelatedResult {
  if (terms.length === 0) throw new InputError(`${name}: found no result, expected at least 1`);
  let estimate = 0;
  const parts = new Map<string, SourcePart>();
  for (const { result, coefficient } of terms) {
    estimate += coefficient * result.estimate;
    for (const [key, part] of result.parts) {
      const known = parts.get(key);
      const value = coefficient * part.value;
      parts.set(key, known === undefined ? { ...part, value } : joined(known, part, value));
    }
  }
  return { name, unit, estimate, parts };
}

/**
 * Mean of results in one unit.
 *
 * @throws InputError no result, or results in several units
 */
export function meanOfResults(name: string, results: readonly CorrelatedResult[]): CorrelatedResult {
  const units = [...new Set(results.map((result) => result.unit))];
  if (units.length > 1) throw new InputError(`${name}: found units ${units.join(', ')}, expected one`);
  const terms = results.map((result) => ({ result, coefficient: 1 / results.length }));
  return sumOfResults(name, units[0] ?? '', terms);
}

/**
 * Ratio of two results, first order; what both share in proportion cancels.
 *
 * @throws InputError a denominator whose interval of three standard uncertainties holds 0
 * @see JCGM 100:2008, 5.2.2 and H.2.3
 */
export function ratioOfResults(
  name: string,
  unit: string,
  numerator: CorrelatedResult,
  denominator: CorrelatedResult,
): CorrelatedResult {
  const u = standardUncertaintyOf(denominator);
  if (Math.abs(denominator.estimate) <= 3 * u) {
    throw new InputError(
      `${name}: found a denominator of ${denominator.estimate} with u = ${u}, expected one whose interval of three u does not hold 0`,
    );
  }
  const ratio = numerator.estimate / denominator.estimate;
  const sum = sumOfResults(name, unit, [
    { result: numerator, coefficient: 1 / denominator.estimate },
    { result: denominator, coefficient: -ratio / denominator.estimate },
  ]);
  return { ...sum, estimate: ratio };
}

/** The result with parts added: quantities that its model does not hold, such as the scatter of digestions. */
export function withParts(
  result: CorrelatedResult,
  added: readonly (SourcePart & { readonly key: string })[],
): CorrelatedResult {
  const parts = new Map(result.parts);
  for (const { key, ...part } of added) {
    const known = parts.get(key);
    parts.set(key, known === undefined ? part : joined(known, part, part.value));
  }
  return { ...result, parts };
}

/** The result with those of its parts alone that are kept, such as the ones that recur where an observed scatter holds the others. */
export function withSomeParts(
  result: CorrelatedResult,
  isKept: (part: SourcePart) => boolean,
): CorrelatedResult {
  return { ...result, parts: new Map([...result.parts].filter(([, part]) => isKept(part))) };
}

/** The same source in two results; of two degrees of freedom the smaller counts, and what recurs in one of them recurs. */
function joined(known: SourcePart, part: SourcePart, value: number): SourcePart {
  const degreesOfFreedom = Math.min(known.degreesOfFreedom, part.degreesOfFreedom);
  const variesWith = known.variesWith === part.variesWith ? part.variesWith : null;
  return { ...part, degreesOfFreedom, variesWith, value: known.value + value };
}
