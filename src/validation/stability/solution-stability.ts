import { InputError, requireFinite, requireNonNegative, requirePositive } from '../../errors.js';
import { mean } from '../../statistics/descriptive/mean.js';
import { standardDeviation } from '../../statistics/descriptive/standard-deviation.js';
import { limitsOfEstimate } from '../confidence-limits.js';
import type { ConfidenceLimits, Finding } from '../finding.js';
import { type FindingOptions, makeFinding } from '../make-finding.js';
import { rowsOf } from '../result-row.js';
import type { JudgedVerdict } from '../verdict.js';

/** One reading of one digestion's solution at a tested time. */
export interface StabilityRow {
  readonly key: string;
  /** Hours since dissolution, the same for all digestions read at this time. */
  readonly hours: number;
  readonly value: number;
}

export interface SolutionStabilityOptions extends FindingOptions {
  /** Largest change allowed, in % of the first reading. */
  readonly allowedChangePercent: number;
  /** Standard uncertainty of a change that all digestions share because they are read in one run, in %; 0 where not given. */
  readonly sharedStandardUncertaintyPercent?: number;
}

/** Mean change at one tested time, in % of the first reading. */
export interface StabilityTime {
  readonly hours: number;
  readonly changes: readonly { readonly key: string; readonly percent: number }[];
  readonly meanPercent: number;
  readonly limits: ConfidenceLimits | null;
  readonly state: 'kept' | 'exceeded' | 'open';
}

/** Stability of solutions, with everything its table and figure need. */
export interface SolutionStability {
  readonly finding: Finding;
  readonly times: readonly StabilityTime[];
  /** Longest tested time such that it and all before it keep the allowed change; 0 where none does. */
  readonly longestHours: number;
  /** Mean slope over the digestions in % per hour with limits: shown, not decisive, for a change may start late. */
  readonly slopePercentPerHour: number;
  readonly slopeLimits: ConfidenceLimits | null;
}

/**
 * Longest time to reading that the data show: at each tested time the mean change of the digestions since their first reading
 * must lie within the allowed change by both one-sided 95 % limits. Met if a tested time at or beyond the wanted one and all
 * before it do; not met if at a time up to the wanted one the change exceeds the allowed one even by the favourable limit.
 *
 * @param rows digestions × times, each digestion read at all times; the earliest is the reference
 * @throws InputError fewer than 2 times, a digestion without a reading at one of them, a first reading not above 0
 * @see Eurachem, Fitness for Purpose 2014, 6.6 (clause from memory); Schuirmann 1987 (two one-sided tests)
 */
export function solutionStability(
  rows: readonly StabilityRow[],
  options: SolutionStabilityOptions,
): SolutionStability {
  requireFinite(
    rows.flatMap((row) => [row.hours, row.value]),
    'readings over time',
  );
  requirePositive(options.allowedChangePercent, 'allowed change');
  requireNonNegative(options.sharedStandardUncertaintyPercent ?? 0, 'shared standard uncertainty');
  const series = seriesOf(rows);
  const hours = [...new Set(rows.map((row) => row.hours))].sort((a, b) => a - b);
  if (hours.length < 2) throw new InputError(`times: found ${hours.length}, expected at least 2`);
  const times = hours.slice(1).map((time) => timeOf(time, hours[0]!, series, options));
  const firstOpen = times.findIndex((time) => time.state !== 'kept');
  const kept = firstOpen === -1 ? times : times.slice(0, firstOpen);
  const longestHours = kept.at(-1)?.hours ?? 0;
  const slopes = [...series.values()].map((values) => slopeOf(hours, values, hours[0]!));
  return {
    finding: findingOf(rows, options, times, longestHours, series.size),
    times,
    longestHours,
    slopePercentPerHour: mean(slopes),
    slopeLimits:
      slopes.length > 1
        ? limitsOfEstimate(
            mean(slopes),
            standardDeviation(slopes) / Math.sqrt(slopes.length),
            slopes.length - 1,
          )
        : null,
  };
}

function seriesOf(rows: readonly StabilityRow[]): Map<string, Map<number, number>> {
  const series = new Map<string, Map<number, number>>();
  for (const row of rows) {
    const times = series.get(row.key) ?? new Map<number, number>();
    if (times.has(row.hours)) {
      throw new InputError(`${row.key}: found two readings at ${row.hours} h, expected one (their mean)`);
    }
    times.set(row.hours, row.value);
    series.set(row.key, times);
  }
  const all = new Set(rows.map((row) => row.hours));
  for (const [key, times] of series) {
    const missing = [...all].find((hours) => !times.has(hours));
    if (missing !== undefined) throw new InputError(`${key}: found no reading at ${missing} h`);
    requirePositive(times.get(Math.min(...all))!, `first reading of ${key}`);
  }
  return series;
}

function timeOf(
  hours: number,
  first: number,
  series: Map<string, Map<number, number>>,
  options: SolutionStabilityOptions,
): StabilityTime {
  const changes = [...series].map(([key, values]) => ({
    key,
    percent: 100 * (values.get(hours)! / values.get(first)! - 1),
  }));
  const percents = changes.map((change) => change.percent);
  const meanPercent = mean(percents);
  const n = percents.length;
  if (n < 2) return { hours, changes, meanPercent, limits: null, state: 'open' };
  const own = standardDeviation(percents) / Math.sqrt(n);
  const u = Math.hypot(own, options.sharedStandardUncertaintyPercent ?? 0);
  const degreesOfFreedom = own > 0 ? (u / own) ** 4 * (n - 1) : Infinity;
  const limits = limitsOfEstimate(meanPercent, u, degreesOfFreedom);
  const allowed = options.allowedChangePercent;
  const state =
    limits.lowerOneSided >= -allowed && limits.upperOneSided <= allowed
      ? 'kept'
      : limits.lowerOneSided > allowed || limits.upperOneSided < -allowed
        ? 'exceeded'
        : 'open';
  return { hours, changes, meanPercent, limits, state };
}

function slopeOf(hours: readonly number[], values: Map<number, number>, first: number): number {
  const centre = mean(hours);
  const spread = hours.reduce((sum, time) => sum + (time - centre) ** 2, 0);
  const rise = hours.reduce((sum, time) => sum + (time - centre) * values.get(time)!, 0);
  return (100 * rise) / spread / values.get(first)!;
}

function findingOf(
  rows: readonly StabilityRow[],
  options: SolutionStabilityOptions,
  times: readonly StabilityTime[],
  longestHours: number,
  digestions: number,
): Finding {
  return makeFinding('solution stability', options, {
    quantity: `longest tested time over which the mean change stays within ${options.allowedChangePercent} %`,
    unit: 'h',
    estimate: longestHours,
    limits: null,
    degreesOfFreedom: digestions > 1 ? digestions - 1 : null,
    n: digestions,
    clause: 'Eurachem, Fitness for Purpose 2014, 6.6 (clause from memory)',
    method: `mean change since the first reading at each tested time, both one-sided 95 % limits within ±${options.allowedChangePercent} %; the longest such time has no sampling error of its own`,
    rows: [rowsOf('digestions', rows)],
    notes: [
      options.sharedStandardUncertaintyPercent
        ? `A run’s own error is common to all digestions read at one time: ${Number(options.sharedStandardUncertaintyPercent.toPrecision(2))} % (its standard uncertainty) is in the limits.`
        : 'A run’s own error is common to all digestions read at one time and is not in the limits.',
    ],
    notShownBecause: digestions < 2 ? 'One digestion was followed; at least 2 are needed, better 3.' : null,
    decided: decide(options, times, longestHours),
  });
}

function decide(
  options: SolutionStabilityOptions,
  times: readonly StabilityTime[],
  longestHours: number,
): JudgedVerdict {
  const { criterion, allowedChangePercent } = options;
  if (criterion === null) return { verdict: 'no criterion', reason: 'The plan sets no criterion.' };
  if (criterion.kind !== 'at least' || criterion.unit !== 'h') {
    throw new InputError(
      `criterion of stability: found ${criterion.kind} in ${criterion.unit}, expected at least in h`,
    );
  }
  const wanted = criterion.limit;
  const exceeded = times.find((time) => time.state === 'exceeded' && time.hours <= wanted);
  if (longestHours >= wanted) {
    return {
      verdict: 'met',
      reason: `At all tested times up to ${longestHours} h the mean change stays within ${allowedChangePercent} %.`,
    };
  }
  if (exceeded !== undefined) {
    return {
      verdict: 'not met',
      reason: `At ${exceeded.hours} h the mean change ${exceeded.meanPercent.toPrecision(3).replace('-', '−')} % exceeds the allowed ${allowedChangePercent} % even by its favourable limit; shown to keep within it up to ${longestHours} h, and ${wanted} h are required.`,
    };
  }
  return { verdict: 'not shown', reason: openReason(times, longestHours, wanted) };
}

/** What is missing: a reading where none was taken, or digestions where readings do not decide. */
function openReason(times: readonly StabilityTime[], longestHours: number, wanted: number): string {
  const last = times.at(-1)!.hours;
  if (longestHours === last)
    return `Tested up to ${last} h only; readings at ${wanted} h or later are needed.`;
  const next = times.find((time) => time.hours > longestHours)!;
  if (next.hours > wanted) {
    const then = next.state === 'exceeded' ? 'is exceeded by then' : 'is not decided then';
    return `Shown up to ${longestHours} h; the next reading is at ${next.hours} h, and what is allowed ${then}. A reading at ${wanted} h is missing.`;
  }
  const late = last < wanted ? ` They must be read at ${wanted} h or later too.` : '';
  return `Shown up to ${longestHours} h; at ${next.hours} h the limits do not decide. More digestions read over time would.${late}`;
}
