import { covarianceLoads } from '../result-covariance/covariance-loads.js';
import type { StudyRecovery } from './study-recovery.js';

/**
 * Recoveries with their scatter taken apart into sources that the analytes share: those found on the same days scatter together,
 * as weighings, standards and fusions of a day do, and totals must know it. Each keeps its own standard uncertainty.
 *
 * @param study name that keeps the sources of several studies apart
 */
export function withSharedScatter(recoveries: readonly StudyRecovery[], study: string): StudyRecovery[] {
  const daysOf = ({ byDay }: StudyRecovery) =>
    byDay
      .map(({ day }) => day)
      .sort()
      .join(', ');
  const done = new Map<StudyRecovery, StudyRecovery>();
  for (const days of new Set(recoveries.map(daysOf))) {
    const group = recoveries.filter((each) => daysOf(each) === days);
    const { loads } = covarianceLoads(covarianceOfMeans(group));
    group.forEach((each, i) => {
      const shared = loads[i]!.map((value, k) => ({
        key: `scatter of recoveries ${k + 1}@study ${study}, ${days}`,
        value,
      }));
      const scatter = { degreesOfFreedom: each.byDay.length - 1, shared };
      done.set(each, { ...each, factor: { ...each.factor, scatter } });
    });
  }
  return recoveries.map((each) => done.get(each)!);
}

/** Covariance matrix of the means over days of recoveries that were found on the same days. */
function covarianceOfMeans(group: readonly StudyRecovery[]): number[][] {
  const deviations = group.map(({ byDay, mean }) => new Map(byDay.map((d) => [d.day, d.mean - mean])));
  const days = [...deviations[0]!.keys()];
  return deviations.map((a) =>
    deviations.map(
      (b) =>
        days.reduce((sum, day) => sum + a.get(day)! * b.get(day)!, 0) / ((days.length - 1) * days.length),
    ),
  );
}
