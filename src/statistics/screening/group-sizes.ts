import { InputError, requireFinite } from '../../errors.js';
import { standardDeviation } from '../descriptive/standard-deviation.js';

/**
 * Checks groups of results.
 *
 * @param least smallest size of a group the caller can work with
 * @throws InputError fewer than two groups, a group below the least size, or a value that is not finite
 */
export function requireGroups(groups: readonly ArrayLike<number>[], least: number): void {
  if (groups.length < 2) throw new InputError(`groups: found ${groups.length}, expected at least 2`);
  groups.forEach((group, i) => {
    requireFinite(group, `group ${i + 1}`, least);
  });
}

/** The size most groups have (the larger where two are as frequent), and a note where not all have it. */
export function commonSize(groups: readonly ArrayLike<number>[]): { size: number; notes: string[] } {
  const counts = new Map<number, number>();
  for (const { length } of groups) counts.set(length, (counts.get(length) ?? 0) + 1);
  const [size] = [...counts].sort((a, b) => b[1] - a[1] || b[0] - a[0])[0]!;
  const notes = counts.size > 1 ? [`groups differ in size: calculated as if all had ${size} values`] : [];
  return { size, notes };
}

/** Variances over the largest of them, which neither overflow nor vanish; all 0 where no group holds any variation. */
export function relativeVariances(groups: readonly ArrayLike<number>[]): number[] {
  const spreads = groups.map(standardDeviation);
  const largest = Math.max(...spreads);
  return spreads.map((s) => (largest === 0 ? 0 : (s / largest) ** 2));
}
