import { InputError, requireFinite, requireSameLength } from '../../errors.js';
import {
  add,
  type DoubleDouble,
  divide,
  multiply,
  narrow,
  square,
  subtract,
  wide,
  zero,
} from '../arithmetic/double-double.js';
import { classCount, type NestedFactor, nestedClasses } from './nested-classes.js';
import { completeStrata, type VarianceStratum } from './variance-stratum.js';

/** Nested (hierarchical) analysis of variance. */
export interface NestedAnalysis {
  readonly mean: number;
  readonly n: number;
  /** Outermost factor first, residual last. */
  readonly strata: readonly VarianceStratum[];
  readonly totalVariance: number;
  readonly balanced: boolean;
  readonly method: string;
  readonly notes: readonly string[];
}

/**
 * Nested analysis of variance to any depth, with variance components by expected mean squares.
 *
 * Answers: how much of the spread comes from days, how much from digestions within days, how much from readings? Level
 * names are read within the level above: digestion 1 of Monday is not digestion 1 of Tuesday. Components solve MS = EMS, one
 * stratum after the other from within; in unbalanced designs prefer `remlNested`.
 *
 * @param values n results in one unit
 * @param factors outermost first; each with n level names
 * @throws InputError no factor, unequal lengths, a stratum without degrees of freedom, a value that is not finite
 * @see Searle, Casella and McCulloch, Variance Components, 1992, 5.3; ISO 5725-3:2023
 * @example
 * nestedAnalysis([1, 2, 4, 5, 3, 3.5, 6, 7], [{ name: 'day', levels: [1, 1, 1, 1, 2, 2, 2, 2] }, { name: 'digestion', levels: [1, 1, 2, 2, 1, 1, 2, 2] }]).strata[2].meanSquare // => 0.40625
 */
export function nestedAnalysis(values: readonly number[], factors: readonly NestedFactor[]): NestedAnalysis {
  requireFinite(values, 'values', 2);
  if (factors.length === 0) throw new InputError('factors: found none, expected at least one');
  factors.forEach((factor) => {
    requireSameLength(values, 'values', factor.levels, factor.name);
  });
  const classes = nestedClasses(values.length, factors);
  const counts = classes.map(classCount);
  const means = classes.map((code, k) => classMeans(values, code, counts[k]!));
  const rows = expectedMeanSquares(classes, counts);
  const balanced = classes.every((code, k) => new Set(classSizes(code, counts[k]!)).size === 1);
  const notes = balanced
    ? []
    : ['The design is unbalanced: components depend on the method and F ratios are not exact tests.'];
  const names = [...factors.map((factor) => factor.name), 'residual'];
  const strata = completeStrata(
    names.map((name, k) => ({
      name,
      sumOfSquares: sumOfSquares(classes[k]!, classes[k + 1]!, means[k]!, means[k + 1]!),
      degreesOfFreedom: counts[k + 1]! - counts[k]!,
      expectedMeanSquare: rows[k]!,
      testedAgainst: k + 1 < names.length ? k + 1 : null,
    })),
    values.reduce((sum, value) => sum + value * value, 0),
    notes,
  );
  return {
    mean: narrow(means[0]![0]!),
    n: values.length,
    strata,
    totalVariance: strata.reduce((total, stratum) => total + stratum.variance, 0),
    balanced,
    method: 'nested analysis of variance, components by expected mean squares',
    notes,
  };
}

function classSizes(code: readonly number[], count: number): number[] {
  const sizes = new Array<number>(count).fill(0);
  for (const c of code) sizes[c]!++;
  return sizes;
}

function classMeans(values: readonly number[], code: readonly number[], count: number): DoubleDouble[] {
  const sums = new Array<DoubleDouble>(count).fill(zero);
  code.forEach((c, i) => {
    sums[c] = add(sums[c]!, wide(values[i]!));
  });
  return classSizes(code, count).map((size, c) => divide(sums[c]!, wide(size)));
}

/** Sum over the values of (mean of their class − mean of the class above)². */
function sumOfSquares(
  above: readonly number[],
  code: readonly number[],
  meansAbove: readonly DoubleDouble[],
  means: readonly DoubleDouble[],
): DoubleDouble {
  const parents = new Int32Array(means.length);
  code.forEach((c, i) => {
    parents[c] = above[i]!;
  });
  return classSizes(code, means.length).reduce((total, size, c) => {
    const deviation = subtract(means[c]!, meansAbove[parents[c]!]!);
    return add(total, multiply(square(deviation), wide(size)));
  }, zero);
}

/** E(MS) of stratum k holds component j ≥ k with the coefficient (Σ over classes k of Σn_j²/n_k − the same above)/df. */
function expectedMeanSquares(classes: readonly (readonly number[])[], counts: readonly number[]): number[][] {
  const sizes = classes.map((code, k) => classSizes(code, counts[k]!));
  const strata = classes.length - 1;
  const share = (upper: number, lower: number): number => {
    const parents = new Int32Array(counts[lower]!);
    classes[lower]!.forEach((c, i) => {
      parents[c] = classes[upper]![i]!;
    });
    return sizes[lower]!.reduce((total, size, c) => total + size ** 2 / sizes[upper]![parents[c]!]!, 0);
  };
  return Array.from({ length: strata }, (_, k) =>
    Array.from({ length: strata }, (__, j) =>
      j < k ? 0 : (share(k + 1, j + 1) - share(k, j + 1)) / (counts[k + 1]! - counts[k]!),
    ),
  );
}
