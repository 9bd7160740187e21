import { requireInteger } from '../../errors.js';
import type { Characteristic } from '../characteristic.js';
import { limitsFrom, limitsOfStandardDeviation, scaleLimits } from '../confidence-limits.js';
import type { ConfidenceLimits, Criterion, Finding } from '../finding.js';
import { type FindingOptions, makeFinding } from '../make-finding.js';
import { type ResultRow, rowsOf } from '../result-row.js';
import { scaleOf } from '../scale.js';
import { type DayComponents, dayComponents, termsOfResult } from './day-components.js';
import { daysForIntermediatePrecision, daysForRepeatability } from './days-needed.js';
import { asFraction, type HorwitzExpectation, horwitz } from './horwitz.js';
import { limitsOfVarianceSum } from './limits-of-variance-sum.js';

export interface PrecisionOptions extends Omit<FindingOptions, 'criterion'> {
  readonly repeatabilityCriterion: Criterion | null;
  readonly intermediateCriterion: Criterion | null;
  /** Digestions of one day whose mean is the reported result; 1 where not given. */
  readonly digestionsPerResult?: number;
}

/** A standard deviation with its limits, in the unit of the results. */
export interface StandardDeviationEstimate {
  readonly value: number;
  readonly limits: ConfidenceLimits;
  readonly degreesOfFreedom: number;
}

/** Precision of one analyte at one level, with everything its table and figure need. */
export interface Precision {
  readonly repeatability: Finding;
  readonly intermediatePrecision: Finding;
  readonly components: DayComponents;
  readonly digestionsPerResult: number;
  /** Standard deviation of one reported result within a day and over days, in the unit of the results. */
  readonly withinDay: StandardDeviationEstimate;
  readonly overDays: StandardDeviationEstimate;
  /** Satterthwaite's degrees of freedom and upper one-sided 95 % limit of the latter: shown, not decisive. */
  readonly satterthwaite: { readonly degreesOfFreedom: number; readonly upperOneSided: number };
  /** What is usual between laboratories: a comparison; null where the results are not mass fractions. */
  readonly horwitz: HorwitzExpectation | null;
}

/** Fewer days than this show no precision, whatever the values. */
export const leastDays = 5;

/**
 * Repeatability and intermediate precision of a reported result, from digestions repeated over days.
 *
 * The result is the mean of `digestionsPerResult` digestions of one day, so s_r² = s_dig²/n and s_I² = s_day² + s_dig²/n.
 * Limits: χ² for s_r, Graybill–Wang for s_I. Hand in one value a digestion (mean of its readings), not the readings.
 *
 * @throws InputError fewer than 2 days, no day with 2 digestions, a mean not above 0
 * @see ISO 5725-3:2023, 8 (clause from memory); Graybill and Wang 1980, J. Am. Stat. Assoc. 75, 869
 */
export function precision(rows: readonly ResultRow[], options: PrecisionOptions): Precision {
  const perResult = options.digestionsPerResult ?? 1;
  requireInteger(perResult, 'digestions of a result', 1);
  const components = dayComponents(rows);
  const withinDay = repeatabilityOf(components, perResult);
  const overDays = intermediateOf(components, perResult);
  const findings = makeFindings(rows, options, components, perResult, withinDay, overDays);
  return {
    ...findings,
    components,
    digestionsPerResult: perResult,
    withinDay,
    overDays,
    satterthwaite: satterthwaiteOf(components, perResult),
    horwitz: usualPrecision(components.mean, options.unit),
  };
}

function usualPrecision(mean: number, unit: string): HorwitzExpectation | null {
  const massFraction = unit === 'mg/kg' || unit === 'g/100 g' ? asFraction(mean, unit) : 0;
  return massFraction > 0 && massFraction <= 1 ? horwitz(massFraction) : null;
}

function repeatabilityOf(components: DayComponents, perResult: number): StandardDeviationEstimate {
  const value = Math.sqrt(components.digestionVariance / perResult);
  const degreesOfFreedom = components.degreesOfFreedomWithin;
  return { value, limits: limitsOfStandardDeviation(value, degreesOfFreedom), degreesOfFreedom };
}

function intermediateOf(components: DayComponents, perResult: number): StandardDeviationEstimate {
  const value = Math.sqrt(components.dayVariance + components.digestionVariance / perResult);
  const [first, second] = termsOfResult(components, perResult);
  // s_I is never below s_r, so its estimate may lie above the sum of mean squares that the limits are built on.
  const limits = limitsFrom(
    (p) => Math.min(value, Math.sqrt(limitsOfVarianceSum(first, second, p).lower)),
    (p) => Math.max(value, Math.sqrt(limitsOfVarianceSum(first, second, p).upper)),
  );
  return { value, limits, degreesOfFreedom: satterthwaiteOf(components, perResult).degreesOfFreedom };
}

function satterthwaiteOf(components: DayComponents, perResult: number): Precision['satterthwaite'] {
  const terms = termsOfResult(components, perResult);
  const parts = terms.map((term) => term.coefficient * term.meanSquare);
  const sum = parts[0]! + parts[1]!;
  const spread = terms.reduce((total, term, i) => total + parts[i]! ** 2 / term.degreesOfFreedom, 0);
  const least = Math.min(...terms.map((term) => term.degreesOfFreedom));
  const degreesOfFreedom = spread > 0 ? Math.max(1, sum ** 2 / spread) : least;
  const value = Math.sqrt(components.dayVariance + components.digestionVariance / perResult);
  return {
    degreesOfFreedom,
    upperOneSided: limitsOfStandardDeviation(value, degreesOfFreedom).upperOneSided,
  };
}

function makeFindings(
  rows: readonly ResultRow[],
  options: PrecisionOptions,
  components: DayComponents,
  perResult: number,
  withinDay: StandardDeviationEstimate,
  overDays: StandardDeviationEstimate,
): Pick<Precision, 'repeatability' | 'intermediatePrecision'> {
  const { repeatabilityCriterion, intermediateCriterion, ...rest } = options;
  const { days } = components;
  const tooFew =
    days.length < leastDays
      ? `Found ${days.length} days; at least ${leastDays} days are needed before precision over days counts as shown.`
      : null;
  const common = {
    rows: [rowsOf('digestions', rows)],
    notShownBecause: tooFew,
    notes: notesOf(rows, components),
  };
  const find = (
    characteristic: Characteristic,
    criterion: Criterion | null,
    estimate: StandardDeviationEstimate,
    parts: { n: number; quantity: string; clause: string; method: string; remedy: (limit: number) => string },
  ): Finding => {
    const scale = scaleOf(criterion, options.unit, components.mean);
    return makeFinding(
      characteristic,
      { ...rest, criterion },
      {
        ...common,
        ...parts,
        quantity: `${scale.relative ? 'relative ' : ''}${parts.quantity} of the mean of ${perResult} digestion(s)`,
        unit: scale.unit,
        estimate: estimate.value * scale.factor,
        limits: scaleLimits(estimate.limits, scale.factor),
        degreesOfFreedom: estimate.degreesOfFreedom,
        remedy: () => (criterion === null ? '' : parts.remedy(criterion.limit / scale.factor)),
      },
    );
  };
  return {
    repeatability: find('repeatability', repeatabilityCriterion, withinDay, {
      n: components.n,
      quantity: 'repeatability standard deviation',
      clause: 'ISO 5725-2:2019, 7 (clause from memory)',
      method: `${components.method}; limits by χ²`,
      remedy: (limit) => daysForRepeatability(components, withinDay.value, limit),
    }),
    intermediatePrecision: find('intermediate precision', intermediateCriterion, overDays, {
      n: days.length,
      quantity: 'intermediate precision standard deviation',
      clause: 'ISO 5725-3:2023, 8 (clause from memory)',
      method: `${components.method}; limits by Graybill and Wang`,
      remedy: (limit) => daysForIntermediatePrecision(components, perResult, limit),
    }),
  };
}

function notesOf(rows: readonly ResultRow[], components: DayComponents): string[] {
  const factors = (['operator', 'place', 'crucible'] as const).flatMap((factor) => {
    const levels = new Set(rows.flatMap((row) => row[factor] ?? []));
    return levels.size === 0 ? [] : `${factor} (${levels.size})`;
  });
  const changed = ['day with its calibration', ...factors].join(', ');
  const notes = [`Changed between results: ${changed} (${components.days.length} days).`];
  if (components.dayVarianceAtBoundary) {
    notes.push('The variance between days came out at or below 0 and is held at 0.');
  }
  if (components.digestionVariance === 0) {
    notes.push('Digestions of one day are equal to the last digit: rounding hides their spread.');
  }
  return notes;
}
