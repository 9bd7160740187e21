import type { InputQuantity } from '../input-quantity.js';
import { correlatedBlocks, type IndexedCorrelation } from '../model/correlation-matrix.js';

/** Inputs gathered into sources that are independent of each other, each with one number of degrees of freedom. */
export interface IndependentSources {
  readonly groups: readonly {
    /** Positions of the inputs. */
    readonly members: readonly number[];
    readonly degreesOfFreedom: number;
    /** Correlations within the source. */
    readonly correlations: readonly IndexedCorrelation[];
  }[];
  readonly notes: readonly string[];
}

/**
 * The independent sources among inputs: those of one joint evaluation, or linked by correlation, belong together.
 * Where linked inputs have different degrees of freedom the smallest is taken, and a note says so: no formula of the
 * Welch–Satterthwaite kind holds there, and simulation decides.
 */
export function independentSources(
  inputs: readonly InputQuantity[],
  correlations: readonly IndexedCorrelation[],
): IndependentSources {
  const links = [...correlations, ...jointLinks(inputs)];
  const group: number[][] = [];
  const taken = new Set<number>();
  for (const block of correlatedBlocks(links)) {
    group.push(block);
    for (const member of block) taken.add(member);
  }
  const notes: string[] = [];
  const groups = group.map((members) => {
    const numbers = members
      .filter((i) => inputs[i]!.standardUncertainty > 0)
      .map((i) => inputs[i]!.degreesOfFreedom);
    const degreesOfFreedom = Math.min(...numbers);
    if (numbers.some((nu) => nu !== degreesOfFreedom)) {
      const names = members.map((i) => inputs[i]!.name).join(', ');
      notes.push(
        `${names} are correlated and have different degrees of freedom: the smallest, ${degreesOfFreedom}, is ` +
          'taken for them together; simulation needs no such rule',
      );
    }
    const joint = new Set(members.map((i) => inputs[i]!.jointSource ?? inputs[i]!.name));
    if (degreesOfFreedom !== Infinity && joint.size > 1 && numbers.every((nu) => nu === degreesOfFreedom)) {
      const names = members.map((i) => inputs[i]!.name).join(', ');
      notes.push(
        `${names} are correlated without one joint evaluation: their ${degreesOfFreedom} degrees of freedom are ` +
          'counted once for them together',
      );
    }
    const within = correlations.filter((c) => members.includes(c.first));
    return { members, degreesOfFreedom, correlations: within };
  });
  inputs.forEach((input, i) => {
    if (taken.has(i)) return;
    groups.push({ members: [i], degreesOfFreedom: input.degreesOfFreedom, correlations: [] });
  });
  return { groups, notes };
}

function jointLinks(inputs: readonly InputQuantity[]): IndexedCorrelation[] {
  const firstOf = new Map<string, number>();
  const links: IndexedCorrelation[] = [];
  inputs.forEach((input, i) => {
    if (input.jointSource === undefined) return;
    const first = firstOf.get(input.jointSource);
    if (first === undefined) firstOf.set(input.jointSource, i);
    else links.push({ first, second: i, coefficient: 1 });
  });
  return links;
}

/**
 * Effective degrees of freedom of an output: u⁴ / Σ (u_g⁴ / ν_g) over independent sources g, where
 * u_g² = J_g V_g J_gᵀ. A source without uncertainty or with infinite degrees of freedom adds nothing to the sum.
 *
 * @param sensitivities one coefficient an input
 * @returns `Infinity` where nothing limits it
 * @see JCGM 100:2008, G.4.1, formula (G.2b)
 */
export function effectiveDegreesOfFreedom(
  sensitivities: ArrayLike<number>,
  inputs: readonly InputQuantity[],
  sources: IndependentSources,
): number {
  const variances = sources.groups.map(({ members, correlations }) => {
    let variance = 0;
    for (const i of members) variance += (sensitivities[i]! * inputs[i]!.standardUncertainty) ** 2;
    for (const { first, second, coefficient } of correlations) {
      const a = sensitivities[first]! * inputs[first]!.standardUncertainty;
      const b = sensitivities[second]! * inputs[second]!.standardUncertainty;
      variance += 2 * coefficient * a * b;
    }
    return Math.max(0, variance);
  });
  const total = variances.reduce((sum, variance) => sum + variance, 0);
  if (total === 0) return Infinity;
  let denominator = 0;
  sources.groups.forEach(({ degreesOfFreedom }, g) => {
    const share = variances[g]! / total;
    if (share > 0) denominator += (share * share) / degreesOfFreedom;
  });
  return 1 / denominator;
}
