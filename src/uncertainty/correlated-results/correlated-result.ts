/** What one independent source of uncertainty does to a result: sensitivity × standard uncertainty, with its sign. */
export interface SourcePart {
  /** In the unit of the result. */
  readonly value: number;
  /** Sources estimated together have one number of degrees of freedom. */
  readonly group: string;
  readonly degreesOfFreedom: number;
  /** What it comes anew with, where observed precision holds it; null where it recurs. */
  readonly variesWith: 'digestion' | 'run' | null;
}

/**
 * A result as a sum over independent sources. A source that two results share has one key in both, so their covariance is the sum
 * of the products of its parts; correlated inputs are taken apart into independent ones first.
 *
 * @see JCGM 100:2008, 5.2 and F.1.2.3; JCGM 102:2011, 6.2
 */
export interface CorrelatedResult {
  readonly name: string;
  readonly unit: string;
  readonly estimate: number;
  readonly parts: ReadonlyMap<string, SourcePart>;
}

/**
 * Covariance of two results, in the product of their units. A result with itself gives its variance.
 *
 * @see JCGM 100:2008, formula (F.2)
 */
export function covarianceOf(first: CorrelatedResult, second: CorrelatedResult): number {
  const [few, many] = first.parts.size <= second.parts.size ? [first, second] : [second, first];
  let sum = 0;
  for (const [key, part] of few.parts) {
    const other = many.parts.get(key);
    if (other !== undefined) sum += part.value * other.value;
  }
  return sum;
}

/** Standard uncertainty of a result, in its unit. */
export function standardUncertaintyOf(result: CorrelatedResult): number {
  return Math.sqrt(covarianceOf(result, result));
}

/** Correlation coefficient of two results; 0 where one of them has no uncertainty. */
export function correlationOf(first: CorrelatedResult, second: CorrelatedResult): number {
  const scale = standardUncertaintyOf(first) * standardUncertaintyOf(second);
  return scale === 0 ? 0 : covarianceOf(first, second) / scale;
}

/** Covariance matrix of results, in their order. */
export function covarianceMatrixOf(results: readonly CorrelatedResult[]): number[][] {
  const matrix = results.map(() => new Array<number>(results.length).fill(0));
  results.forEach((a, i) => {
    for (let j = i; j < results.length; j++) {
      matrix[i]![j] = covarianceOf(a, results[j]!);
      matrix[j]![i] = matrix[i]![j]!;
    }
  });
  return matrix;
}

/**
 * Effective degrees of freedom u⁴ / Σ (u_g⁴/ν_g) over independent groups of sources; `Infinity` where nothing limits them.
 *
 * @see JCGM 100:2008, G.4.1, formula (G.2b)
 */
export function effectiveDegreesOfFreedomOf(result: CorrelatedResult): number {
  const groups = new Map<string, { variance: number; degreesOfFreedom: number }>();
  let total = 0;
  for (const { value, group, degreesOfFreedom } of result.parts.values()) {
    const known = groups.get(group);
    total += value * value;
    if (known === undefined) groups.set(group, { variance: value * value, degreesOfFreedom });
    else {
      known.variance += value * value;
      known.degreesOfFreedom = Math.min(known.degreesOfFreedom, degreesOfFreedom);
    }
  }
  if (total === 0) return Number.POSITIVE_INFINITY;
  let sum = 0;
  for (const { variance, degreesOfFreedom } of groups.values())
    sum += (variance / total) ** 2 / degreesOfFreedom;
  return 1 / sum;
}
