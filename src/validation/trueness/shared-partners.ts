import { mean } from '../../statistics/descriptive/mean.js';
import { variance } from '../../statistics/descriptive/standard-deviation.js';
import { dayComponents } from '../precision/day-components.js';
import { type ResultRow, valuesBy } from '../result-row.js';
import type { SpikeRow } from './spike-row.js';

/** A result of a sample without addition, in any unit that all results of this sample share. */
export interface UnspikedRow extends Pick<ResultRow, 'key' | 'day' | 'value'> {
  readonly sample: string;
}

/** Part of the uncertainty of a mean recovery that spikes of several days have in common by their unspiked digestions. */
export interface SharedPartners {
  /** Standard uncertainty of the mean recovery; 0 where no two days lean on one partner, null where nothing tells the scatter. */
  readonly standardUncertainty: number | null;
  readonly degreesOfFreedom: number;
}

/** Relative scatter of the unspiked results: mean squares between and within days. */
interface UnspikedScatter {
  readonly digestionsPerDay: number;
  readonly meanSquareBetween: number;
  readonly degreesOfFreedomBetween: number;
  readonly meanSquareWithin: number;
  readonly degreesOfFreedomWithin: number;
}

const none: SharedPartners = { standardUncertainty: 0, degreesOfFreedom: Number.POSITIVE_INFINITY };

/**
 * What spikes of different days share by their unspiked digestions: the mean covariance of two days' recoveries.
 *
 * R = (m_found − w·m_p)/m_added, so an error of one unspiked digestion enters with −(native ÷ added) ÷ partners. Where the same
 * digestion, or the same day's calibration, enters the recoveries of several days, the days do not scatter by it: their s²/D falls
 * short of the variance of the mean by exactly the mean covariance of two days. It is made of the relative variances between days
 * and between digestions of one day of the unspiked results.
 *
 * @param unspiked results of the samples without addition, the partners among them; partners that are not are of the spike's day
 * @see JCGM 100:2008 (GUM), 5.2 (correlated input quantities)
 */
export function sharedPartners(rows: readonly SpikeRow[], unspiked: readonly UnspikedRow[]): SharedPartners {
  const dayOf = new Map(unspiked.map(({ key, day }) => [key, day]));
  const digestions = meanCovariance(
    leverages(rows, (row, add) => {
      for (const partner of row.partners) add(partner, -nativePerAdded(row) / row.partners.length);
    }),
  );
  const days = meanCovariance(
    leverages(rows, (row, add) => {
      add(row.day, row.foundMg / row.addedMg);
      for (const partner of row.partners)
        add(dayOf.get(partner) ?? row.day, -nativePerAdded(row) / row.partners.length);
    }),
  );
  if (digestions === 0 && days <= 0) return none;
  const scatter = scatterOf(unspiked);
  if (scatter === null) return { ...none, standardUncertainty: null };
  return combine(digestions, Math.max(0, days), scatter);
}

function nativePerAdded(row: SpikeRow): number {
  return (row.unspikedMgPerKg * row.portionG) / 1000 / row.addedMg;
}

/** By day, how far its mean recovery follows the relative error of each source. */
function leverages(
  rows: readonly SpikeRow[],
  sources: (row: SpikeRow, add: (source: string, leverage: number) => void) => void,
): ReadonlyMap<string, number>[] {
  const byDay = new Map<string, SpikeRow[]>();
  for (const row of rows) byDay.set(row.day, [...(byDay.get(row.day) ?? []), row]);
  return [...byDay.values()].map((ofDay) => {
    const found = new Map<string, number>();
    for (const row of ofDay) {
      sources(row, (source, leverage) =>
        found.set(source, (found.get(source) ?? 0) + leverage / ofDay.length),
      );
    }
    return found;
  });
}

/** Mean over pairs of days of the products of their leverages on the same source. */
function meanCovariance(days: readonly ReadonlyMap<string, number>[]): number {
  let sum = 0;
  for (const [i, first] of days.entries()) {
    for (const second of days.slice(i + 1)) {
      for (const [source, leverage] of first) sum += leverage * (second.get(source) ?? 0);
    }
  }
  return days.length < 2 ? 0 : (2 * sum) / (days.length * (days.length - 1));
}

/** Null where the results are of one day, so that nothing tells how days differ, or a mean is 0. */
function scatterOf(unspiked: readonly UnspikedRow[]): UnspikedScatter | null {
  const means = new Map([...valuesBy(unspiked, (row) => row.sample)].map(([s, values]) => [s, mean(values)]));
  if ([...means.values()].some((each) => each === 0)) return null;
  const relative = unspiked.map((row) => ({ ...row, value: row.value / means.get(row.sample)! }));
  const byDay = [...valuesBy(relative, (row) => row.day).values()];
  if (byDay.length < 2) return null;
  if (byDay.some((values) => values.length > 1)) return dayComponents(relative);
  // One a day: all the scatter is taken as between digestions.
  return {
    digestionsPerDay: 1,
    meanSquareBetween: 0,
    degreesOfFreedomBetween: Number.POSITIVE_INFINITY,
    meanSquareWithin: variance(relative.map((row) => row.value)),
    degreesOfFreedomWithin: relative.length - 1,
  };
}

/** digestions·s_dig² + days·s_day², the latter (MS_between − MS_within)/n and never below 0; Satterthwaite's degrees of freedom. */
function combine(digestions: number, days: number, scatter: UnspikedScatter): SharedPartners {
  const { meanSquareBetween, meanSquareWithin, digestionsPerDay } = scatter;
  const ofDays = meanSquareBetween > meanSquareWithin ? days / digestionsPerDay : 0;
  const between = ofDays * meanSquareBetween;
  const within = (digestions - ofDays) * meanSquareWithin;
  const spread =
    between ** 2 / scatter.degreesOfFreedomBetween + within ** 2 / scatter.degreesOfFreedomWithin;
  const sum = between + within;
  return {
    standardUncertainty: Math.sqrt(Math.max(0, sum)),
    degreesOfFreedom: spread > 0 ? sum ** 2 / spread : Number.POSITIVE_INFINITY,
  };
}
