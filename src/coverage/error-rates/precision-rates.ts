import type { ConfidenceLimits, Criterion } from '../../validation/finding.js';
import { precision } from '../../validation/precision/precision.js';
import { type ErrorRate, errorRate, wanted } from './error-rate.js';
import { inventedDays, type KnownLevel } from './invented-days.js';

const designs = [
  { days: 10, digestionsPerDay: 2, varianceRatio: 0.25 },
  { days: 10, digestionsPerDay: 2, varianceRatio: 1 },
  { days: 8, digestionsPerDay: 3, varianceRatio: 2 },
] as const;

/** Intervals of s_r and s_I against the planted values, and how often a criterion exactly at the truth is *met*. */
export function precisionRates(seeds: readonly number[]): ErrorRate[] {
  return designs.flatMap(({ days, digestionsPerDay, varianceRatio }) => {
    const digestion = 0.8;
    const level: KnownLevel = {
      content: 100,
      dayStandardDeviation: digestion * Math.sqrt(varianceRatio),
      digestionStandardDeviation: digestion,
    };
    const overDays = digestion * Math.sqrt(varianceRatio + 1);
    const counts = { within: 0, over: 0, metWithin: 0, metOver: 0 };
    const name = `${days} days × ${digestionsPerDay}, σ²_day/σ²_dig ${varianceRatio}`;
    for (const seed of seeds) {
      const found = precision(inventedDays(level, days, digestionsPerDay, seed, name), {
        analyte: 'X',
        level: 'known',
        unit: 'g/100 g',
        repeatabilityCriterion: atMost(digestion),
        intermediateCriterion: atMost(overDays),
      });
      if (holds(found.withinDay.limits, digestion)) counts.within++;
      if (holds(found.overDays.limits, overDays)) counts.over++;
      if (found.repeatability.verdict === 'met') counts.metWithin++;
      if (found.intermediatePrecision.verdict === 'met') counts.metOver++;
    }
    const n = seeds.length;
    return [
      errorRate(`95 % interval of s_r holds σ_r; ${name}`, counts.within, n, wanted.exact),
      errorRate(`95 % interval of s_I holds σ_I (approximate); ${name}`, counts.over, n, wanted.approximate),
      errorRate(
        `repeatability criterion at the truth is met; ${name}`,
        counts.metWithin,
        n,
        wanted.fivePercent,
      ),
      errorRate(
        `intermediate precision criterion at the truth is met; ${name}`,
        counts.metOver,
        n,
        wanted.atMostFivePercent,
      ),
    ];
  });
}

/** A criterion set at the truth, in the unit of the results. */
export function atMost(limit: number): Criterion {
  return { kind: 'at most', limit, unit: 'g/100 g', reason: 'the truth', owner: 'study of error rates' };
}

/** Whether a two-sided interval holds a value. */
export function holds({ low, high }: ConfidenceLimits, value: number): boolean {
  return low <= value && value <= high;
}
