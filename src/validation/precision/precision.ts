import { requireInteger } from '../../errors.js';
import type { Characteristic } from '../characteristic.js';
import { scaleLimits } from '../confidence-limits.js';
import type { Criterion, Finding } from '../finding.js';
import { type FindingOptions, makeFinding } from '../make-finding.js';
import { type ResultRow, rowsOf } from '../result-row.js';
import { scaleOf } from '../scale.js';
import { dataScreening, describeFlag, type ScreeningFlag } from './data-screening.js';
import { type DayComponents, dayComponents } from './day-components.js';
import { daysForIntermediatePrecision, daysForRepeatability } from './days-needed.js';
import { asFraction, type HorwitzExpectation, horwitz } from './horwitz.js';
import {
  intermediateOf,
  repeatabilityOf,
  type SatterthwaiteLimit,
  type StandardDeviationEstimate,
  satterthwaiteOf,
} from './precision-estimates.js';

export interface PrecisionOptions extends Omit<FindingOptions, 'criterion'> {
  readonly repeatabilityCriterion: Criterion | null;
  readonly intermediateCriterion: Criterion | null;
  /** Digestions of one day whose mean is the reported result; 1 where not given. */
  readonly digestionsPerResult?: number;
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
  readonly satterthwaite: SatterthwaiteLimit;
  /** Flags for a person to look into (`dataScreening` without its pairs of days); no figure depends on them. */
  readonly screening: readonly ScreeningFlag[];
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
  const screening = dataScreening(rows, { pairs: false });
  const notes = [...notesOf(rows, components), ...screening.map(describeFlag)];
  const findings = makeFindings(rows, options, components, perResult, withinDay, overDays, notes);
  return {
    ...findings,
    components,
    digestionsPerResult: perResult,
    withinDay,
    overDays,
    satterthwaite: satterthwaiteOf(components, perResult),
    screening,
    horwitz: usualPrecision(components.mean, options.unit),
  };
}

function usualPrecision(mean: number, unit: string): HorwitzExpectation | null {
  const massFraction = unit === 'mg/kg' || unit === 'g/100 g' ? asFraction(mean, unit) : 0;
  return massFraction > 0 && massFraction <= 1 ? horwitz(massFraction) : null;
}

function makeFindings(
  rows: readonly ResultRow[],
  options: PrecisionOptions,
  components: DayComponents,
  perResult: number,
  withinDay: StandardDeviationEstimate,
  overDays: StandardDeviationEstimate,
  notes: readonly string[],
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
    notes,
  };
  const resultInWords = perResult === 1 ? 'one digestion' : `the mean of ${perResult} digestions of one day`;
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
        quantity: `${scale.relative ? 'relative ' : ''}${parts.quantity} of ${resultInWords}`,
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
