import { requireInteger } from '../../errors.js';
import type { Characteristic } from '../characteristic.js';
import { limitsOfStandardDeviation, scaleLimits } from '../confidence-limits.js';
import type { Criterion, Finding } from '../finding.js';
import { type FindingOptions, makeFinding } from '../make-finding.js';
import { noScatter } from '../no-scatter.js';
import { type ResultRow, rowsOf } from '../result-row.js';
import { scaleOf } from '../scale.js';
import { type CrossedPrecision, crossedPrecision, operatorsCross } from './crossed-precision.js';
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
  /** Where operators crossed with days: the same with a component of its own for operators, and then decisive; else null. */
  readonly crossed: CrossedPrecision | null;
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
  const byDay = dayComponents(rows);
  const crossed =
    byDay.digestionVariance > 0 && operatorsCross(rows) ? crossedPrecision(rows, perResult) : null;
  const { components, withinDay, overDays } =
    crossed === null
      ? {
          components: byDay,
          withinDay: repeatabilityOf(byDay, perResult),
          overDays: intermediateOf(byDay, perResult),
        }
      : { ...crossed, components: { ...byDay, ...variancesOf(crossed) } };
  const screening = dataScreening(rows, { pairs: false });
  const notes = [
    ...notesOf(rows, components),
    ...(crossed?.notes ?? unequalNotes(byDay)),
    ...screening.map(describeFlag),
  ];
  const estimates = { components, withinDay, overDays, crossed };
  const findings = makeFindings(rows, options, perResult, estimates, notes);
  return {
    ...findings,
    components,
    digestionsPerResult: perResult,
    withinDay,
    overDays,
    crossed,
    satterthwaite: crossed === null ? satterthwaiteOf(components, perResult) : satterthwaiteCrossed(crossed),
    screening,
    horwitz: usualPrecision(components.mean, options.unit),
  };
}

function usualPrecision(mean: number, unit: string): HorwitzExpectation | null {
  const massFraction = unit === 'mg/kg' || unit === 'g/100 g' ? asFraction(mean, unit) : 0;
  return massFraction > 0 && massFraction <= 1 ? horwitz(massFraction) : null;
}

const noPrecision = 'they show no precision; enter the digits that were cut';

function makeFindings(
  rows: readonly ResultRow[],
  options: PrecisionOptions,
  perResult: number,
  estimates: Estimates,
  notes: readonly string[],
): Pick<Precision, 'repeatability' | 'intermediatePrecision'> {
  const { repeatabilityCriterion, intermediateCriterion, ...rest } = options;
  const { components, withinDay, overDays, crossed } = estimates;
  const { days } = components;
  const tooFew =
    days.length < leastDays
      ? `Found ${days.length} days; at least ${leastDays} days are needed before precision over days counts as shown.`
      : null;
  const common = { rows: [rowsOf('digestions', rows)], notes };
  const resultInWords =
    (perResult === 1 ? 'one digestion' : `the mean of ${perResult} digestions of one day`) +
    (crossed === null ? '' : perResult === 1 ? '' : ' by one operator');
  const find = (
    characteristic: Characteristic,
    criterion: Criterion | null,
    estimate: StandardDeviationEstimate,
    parts: {
      n: number;
      repeated: string;
      quantity: string;
      clause: string;
      method: string;
      remedy: (limit: number) => string;
    },
  ): Finding => {
    const scale = scaleOf(criterion, options.unit, components.mean);
    return makeFinding(
      characteristic,
      { ...rest, criterion },
      {
        ...common,
        ...parts,
        notShownBecause: tooFew ?? (estimate.value === 0 ? noScatter(parts.repeated, noPrecision) : null),
        notes: characteristic === 'intermediate precision' ? [...notes, ...boundaryNotes(estimates)] : notes,
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
      repeated: 'Digestions of one day',
      quantity: 'repeatability standard deviation',
      clause: 'ISO 5725-2:2019, 7 (clause from memory)',
      method: `${components.method}; limits by χ²`,
      remedy: (limit) => daysForRepeatability(components, withinDay.value, limit),
    }),
    intermediatePrecision: find('intermediate precision', intermediateCriterion, overDays, {
      n: days.length,
      repeated: 'Digestions',
      quantity: 'intermediate precision standard deviation',
      clause: 'ISO 5725-3:2023, 8 (clause from memory)',
      method: `${components.method}; ${crossed === null ? 'limits by Graybill and Wang' : 'limits by Graybill and Wang or from the profile likelihood of each component, whichever is farther'}`,
      remedy: (limit) =>
        crossed === null
          ? daysForIntermediatePrecision(components, perResult, limit)
          : moreOperators(crossed),
    }),
  };
}

/** Why the limits of the intermediate precision may lie below those of the repeatability it is estimated equal to. */
function boundaryNotes({ components, crossed }: Estimates): string[] {
  if (!components.dayVarianceAtBoundary || crossed !== null) return [];
  return [
    'Day means agree better than digestions of one day let expect, so the estimate equals the repeatability; the limits by Graybill and Wang rest on the scatter of the day means as it was, and may lie below the limits of the repeatability.',
  ];
}

interface Estimates extends Pick<Precision, 'withinDay' | 'overDays' | 'crossed'> {
  readonly components: DayComponents;
}

/** What of the components by day is replaced where operators have a component of their own. */
function variancesOf(crossed: CrossedPrecision) {
  const { dayVariance, digestionVariance, method, withinDay } = crossed;
  return {
    dayVariance,
    dayVarianceAtBoundary: dayVariance === 0,
    digestionVariance,
    meanSquareWithin: digestionVariance,
    degreesOfFreedomWithin: withinDay.degreesOfFreedom,
    method,
  };
}

function satterthwaiteCrossed({ overDays }: CrossedPrecision): SatterthwaiteLimit {
  const { value, degreesOfFreedom } = overDays;
  return {
    degreesOfFreedom,
    upperOneSided: limitsOfStandardDeviation(value, degreesOfFreedom).upperOneSided,
  };
}

function moreOperators({ operators, operatorVariance, dayVariance }: CrossedPrecision): string {
  const source = operatorVariance >= dayVariance || operators < 5 ? 'operators' : 'days';
  return `Results of more ${source} (found ${operators} operators) narrow the limits.`;
}

function unequalNotes({ balanced, days }: DayComponents): string[] {
  if (balanced) return [];
  const sizes = days.map(({ n }) => n);
  return [
    `Unequal numbers of digestions a day (${Math.min(...sizes)} to ${Math.max(...sizes)}): components by restricted maximum likelihood; the limits rest on the mean square of the day means and are approximate.`,
  ];
}

function notesOf(rows: readonly ResultRow[], components: DayComponents): string[] {
  const counts = (['operator', 'place', 'crucible'] as const).map(
    (factor) => [factor, new Set(rows.flatMap((row) => row[factor] ?? [])).size] as const,
  );
  const changed = counts.flatMap(([factor, n]) => (n > 1 ? `${factor} (${n})` : []));
  const same = counts.flatMap(([factor, n]) => (n === 1 ? factor : []));
  const notes = [
    `Changed between results: ${['day with its calibration', ...changed].join(', ')} (${components.days.length} days).${same.length === 0 ? '' : ` Not changed within a level: ${same.join(', ')}.`}`,
  ];
  if (components.dayVarianceAtBoundary) {
    notes.push('The variance between days came out at or below 0 and is held at 0.');
  }
  if (components.digestionVariance === 0) {
    notes.push('Digestions of one day are equal to the last digit: rounding hides their spread.');
  }
  return notes;
}
