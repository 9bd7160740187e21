import { InputError } from '../../errors.js';
import { oneWayAnalysis } from '../analysis-of-variance/one-way.js';
import { mean } from '../descriptive/mean.js';
import { median } from '../descriptive/median.js';
import { powerOfTwoScale } from '../descriptive/power-of-two-scale.js';
import { requireGroups } from './group-sizes.js';

/** Outcome of a test that groups have one variance. */
export interface HomogeneityTest {
  readonly statistic: number;
  /** Degrees of freedom of the reference distribution: of F two, of χ² one. */
  readonly degreesOfFreedom: readonly number[];
  readonly pValue: number;
  readonly method: string;
  readonly notes: readonly string[];
}

/**
 * Levene's test that groups have one variance: analysis of variance of the distances from each group's centre. With the
 * median (Brown and Forsythe) it stands up to data that are not normal. Two results lie equally far from their centre, so that
 * groups of two give no scatter of the distances: beside larger groups a note says so, alone they would make F infinite and p 0
 * whatever the data.
 *
 * @param groups p ≥ 2 groups of n ≥ 2 finite results in one unit
 * @param centre median (default) or mean of each group
 * @returns F with p − 1 and N − p degrees of freedom
 * @throws InputError fewer than two groups, a group of fewer than two, no group of three, or a value that is not finite
 * @see Brown and Forsythe 1974, J. Am. Stat. Assoc. 69, 364; NIST/SEMATECH e-Handbook 1.3.5.10
 * @example
 * leveneTest([[1, 2, 3], [1, 5, 9], [2, 2.5, 3]]).statistic // => 2.4927536
 */
export function leveneTest(
  groups: readonly ArrayLike<number>[],
  centre: 'median' | 'mean' = 'median',
): HomogeneityTest {
  requireGroups(groups, 2);
  const ofTwo = groups.filter(({ length }) => length === 2).length;
  if (ofTwo === groups.length) {
    throw new InputError(
      'groups: found 2 results in each, expected at least 3 in one: two lie equally far from their centre',
    );
  }
  const distances = groups.map((group) => {
    const middle = centre === 'median' ? median(group) : mean(group);
    return Array.from(group, (x) => Math.abs(x - middle));
  });
  // The ratio of mean squares is free of scale; their own squares shall stay within the range of numbers.
  const scale = powerOfTwoScale(distances.flat());
  const method = centre === 'median' ? 'Brown-Forsythe (Levene about medians)' : 'Levene, about means';
  const analysis = oneWayAnalysis(distances.map((group) => group.map((d) => d * scale)));
  const degreesOfFreedom = [analysis.degreesOfFreedomBetween, analysis.degreesOfFreedomWithin];
  const notes =
    ofTwo > 0 ? [`${ofTwo} group(s) of 2: their distances do not vary, so that F comes out too high`] : [];
  if (analysis.sumOfSquaresBetween === 0) {
    const same = 'the groups have the same mean distance from their centres';
    return { statistic: 0, degreesOfFreedom, pValue: 1, method, notes: [same, ...notes] };
  }
  return { statistic: analysis.f, degreesOfFreedom, pValue: analysis.pValue, method, notes };
}
