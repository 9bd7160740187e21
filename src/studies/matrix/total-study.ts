import { conversionFactor } from '../../quantities/unit.js';
import {
  sumOfResults,
  withParts,
  withSomeParts,
} from '../../uncertainty/correlated-results/combine-results.js';
import {
  type CorrelatedResult,
  effectiveDegreesOfFreedomOf,
  standardUncertaintyOf,
} from '../../uncertainty/correlated-results/correlated-result.js';
import { type TotalOfOxides, totalOfOxides } from '../../validation/acceptance/total-of-oxides.js';
import { type MeanOverDays, meanOverDays } from '../../validation/mean-over-days.js';
import type { DigestionResult, EvaluatedStudy } from '../evaluate-study.js';
import { explainedResult } from '../result-covariance/predicted-scatter.js';
import { lossesInTotal } from './losses-in-total.js';
import { criterionFor, resultsOf } from './matrix-context.js';

const toGPer100G = (unit: string) => conversionFactor(unit, 'g/100 g');

/**
 * Total of oxides of each level: mean over the days of the totals of single digestions, so that their scatter holds every
 * random covariance; what is common to all results is added from the models of one digestion, a quantity that several oxides
 * share counted once with the sum of its sensitivities. Digestions without a result of every oxide are left out of both.
 *
 * @see JCGM 100:2008 (GUM), 5.2 and H.5; JCGM 102:2011, 6.2
 */
export function totalStudy(study: EvaluatedStudy): TotalOfOxides[] {
  const { records } = study.index;
  const { plan } = records;
  const oxides = plan.analytes.filter((scope) => scope.oxide !== undefined);
  if (oxides.length < 2) return [];
  return plan.levels.flatMap(({ level, sample }) => {
    const bySample = oxides.map((scope) => resultsOf(study, scope.analyte, 'sample', sample));
    const complete = completeDigestions(bySample);
    if (complete.length === 0) return [];
    const overDays = meanOverDays(complete);
    const { losses, leftOut } = lossesInTotal(records, sample);
    const common = commonTo(middleOf(complete).results, losses);
    const total = overDays.standardUncertainty === null ? null : withScatter(common, overDays);
    return [
      totalOfOxides({
        level,
        criterion: criterionFor(plan, 'total of oxides', '*', level),
        contributions: oxides.map((scope, i) => ({
          name: scope.oxide!,
          massFraction: meanOverDays(
            complete.map(({ day, results }) => ({ day, value: gPer100G(results[i]!) })),
          ).mean,
        })),
        losses: losses.map(({ name, estimate }) => ({ name, massFraction: estimate })),
        standardUncertainty: total === null ? null : standardUncertaintyOf(total),
        degreesOfFreedom: effectiveDegreesOfFreedomOf(total ?? common),
        days: overDays.days.length,
        rows: [{ table: 'digestions', keys: complete.map(({ results }) => results[0]!.digestion) }],
        notes: [
          digestionsNote(sample, overDays, bySample, oxides),
          ...(leftOut === null ? [] : [`Not in the total of ${sample}: ${leftOut}.`]),
          ...elementsNote(plan.analytes),
        ],
      }),
    ];
  });
}

type ValuedResult = DigestionResult & { readonly value: number };

function gPer100G({ value, observation }: ValuedResult): number {
  return value * toGPer100G(observation.basis.unit);
}

/** Results of all oxides of one digestion, in the order of the oxides, and their sum in g/100 g. */
interface CompleteDigestion {
  readonly day: string;
  readonly value: number;
  readonly results: readonly ValuedResult[];
}

/** The digestions that every oxide has a result of. */
function completeDigestions(bySample: readonly (readonly ValuedResult[])[]): CompleteDigestion[] {
  const others = bySample.map((results) => new Map(results.map((r) => [r.digestion, r])));
  return bySample[0]!.flatMap(({ digestion, day }) => {
    const results = others.flatMap((of) => of.get(digestion) ?? []);
    if (results.length < bySample.length) return [];
    return [{ day, results, value: results.reduce((sum, r) => sum + gPer100G(r), 0) }];
  });
}

/** The digestion whose total is nearest to the median of all. */
function middleOf(digestions: readonly CompleteDigestion[]): CompleteDigestion {
  return [...digestions].sort((a, b) => a.value - b.value)[Math.floor((digestions.length - 1) / 2)]!;
}

/** The total of one digestion, g/100 g, with what recurs in every other one; the scatter over days holds the rest. */
function commonTo(results: readonly ValuedResult[], losses: readonly CorrelatedResult[]): CorrelatedResult {
  const total = sumOfResults('total of oxides', 'g/100 g', [
    ...results.map((r) => ({
      result: explainedResult(r),
      coefficient: toGPer100G(r.observation.basis.unit),
    })),
    ...losses.map((result) => ({ result, coefficient: 1 })),
  ]);
  return withSomeParts(total, (part) => part.variesWith === null);
}

function withScatter(common: CorrelatedResult, { standardUncertainty, degreesOfFreedom }: MeanOverDays) {
  const group = 'scatter of totals over days';
  const value = standardUncertainty!;
  return withParts(common, [{ key: group, group, value, degreesOfFreedom, variesWith: 'run' }]);
}

/** How many digestions the total rests on, and which oxides the others lack. */
function digestionsNote(
  sample: string,
  { n, days }: MeanOverDays,
  bySample: readonly (readonly ValuedResult[])[],
  oxides: readonly { readonly oxide?: string }[],
): string {
  const all = new Set(bySample.flatMap((results) => results.map((r) => r.digestion)));
  const rests = `${sample}: mean over ${counted(days.length, 'day')} of ${counted(n, 'digestion')} with a result of every oxide`;
  if (all.size === n) return `${rests}.`;
  const lacking = oxides.flatMap(({ oxide }, i) => (bySample[i]!.length < all.size ? [oxide!] : []));
  return `${rests}; ${counted(all.size - n, 'other')} left out for want of ${lacking.join(', ')}.`;
}

function counted(n: number, noun: string): string {
  return `${n} ${noun}${n === 1 ? '' : 's'}`;
}

function elementsNote(analytes: readonly { readonly analyte: string; readonly oxide?: string }[]): string[] {
  const elements = analytes.filter(({ oxide }) => oxide === undefined).map(({ analyte }) => analyte);
  return elements.length === 0
    ? []
    : [`Reported as the element and so not in the total of oxides: ${elements.join(', ')}.`];
}
