import { formatSignificant } from '../../quantities/rounding.js';
import type { RoutineResults } from '../../studies/routine-results/routine-results.js';
import {
  type LimitsOfTotal,
  limitsOfTotal,
  type RoutineTotal,
  samplesWithoutTotal,
} from '../../studies/routine-results/total-of-sample.js';
import { describeCriterion } from '../../validation/verdict.js';
import { column, number, roundedCell, text } from '../cells.js';
import type { Block, Cell, Section, Table } from '../document.js';
import { totalsBySample } from '../figures/totals-by-sample.js';
import { listOf, paragraph, sectionOf } from '../section-of.js';

/** Totals of the samples of a run: the limits, the figure and table, what is missing in them and which samples have none. */
export function totalsSection(results: RoutineResults): Section {
  const limits = limitsOfTotal(results.run.index.records.plan);
  const { totals } = results;
  return sectionOf({
    id: 'totals',
    heading: 'Total of oxides',
    blocks: [
      paragraph(limitsText(limits)),
      ...(totals.length === 0 ? [] : [totalsFigure(totals, limits), totalsTable(results)]),
      ...listOf([...missingTexts(totals), ...lossTexts(totals), ...withoutTotalTexts(results)]),
    ],
    startsPage: true,
  });
}

function limitsText(limits: LimitsOfTotal | null): string {
  if (limits === null) return 'The plan sets no limits for totals: none is judged.';
  const { reason } = limits.criterion;
  const because = reason === '' ? '' : ` (${reason})`;
  return `Allowed by the plan: ${describeCriterion(limits.criterion)}${because}. A total is compared as it stands, without its uncertainty.`;
}

function totalsFigure(totals: readonly RoutineTotal[], limits: LimitsOfTotal | null): Block {
  const edge = (value: number | undefined) => (value !== undefined && Number.isFinite(value) ? value : null);
  return totalsBySample({
    id: 'totals/figure',
    caption:
      'Total of oxides of each sample with its expanded uncertainty (95 %), and the limits of the plan',
    totals: totals.map((t) => ({ ...t, complete: t.held.length === 0 })),
    low: edge(limits?.low),
    high: edge(limits?.high),
  });
}

/** Totals with what they would seem without covariances. */
export function totalsTable({ totals, run }: RoutineResults): Table {
  const limits = limitsOfTotal(run.index.records.plan);
  const list = (names: readonly string[]): Cell => text(names.length === 0 ? '–' : names.join(', '));
  const outcome = (within: boolean | null) =>
    within === null ? 'not judged' : within ? 'within' : 'outside';
  return {
    kind: 'table',
    id: 'totals/table',
    caption: `Total of oxides, never normalised${limits === null ? '' : `; allowed ${describeCriterion(limits.criterion)}`}`,
    columns: [
      column('Sample'),
      column('Total', 'g/100 g'),
      column('U (95 %)', 'g/100 g'),
      column('u', 'g/100 g'),
      column('u if oxides were independent', 'g/100 g'),
      column('Against its limits'),
      column('Held in the sum'),
      column('Missing'),
    ],
    rows: totals.map((t): Cell[] => [
      text(t.sample),
      roundedCell(t.value, t.expandedUncertainty),
      roundedCell(t.expandedUncertainty, t.expandedUncertainty),
      number(t.standardUncertainty, 2),
      number(t.standardUncertaintyApart, 2),
      text(outcome(t.within)),
      list(t.held),
      list(t.missing.map(({ name }) => name)),
    ]),
    notes: [
      'Total and U are rounded to two digits of U.',
      'A total near 100 g/100 g proves nothing: errors of opposite sign hide in it. Oxides that are not measured are not in it.',
      ...(totals.some((t) => t.missing.length > 0)
        ? [
            'Missing: not in the sum. Where an analyte of the run is missing, the total is not judged; where it is an oxide that the run does not determine, the total is judged only if it stays within, or outside, with as much as the highest level of the validation holds.',
          ]
        : []),
    ],
  };
}

/** What is missing, once for all samples that miss it for the same reason. */
function missingTexts(totals: readonly RoutineTotal[]): string[] {
  const samples = new Map<string, string[]>();
  for (const total of totals) {
    for (const { name, reason, atLevels } of total.missing) {
      const levels =
        atLevels === null
          ? ''
          : `; the levels of the validation hold ${formatSignificant(atLevels.lowest, 2)} to ${formatSignificant(atLevels.highest, 2)} g/100 g as found there`;
      const words = `Missing: ${name}, ${reason}${levels}`;
      samples.set(words, [...(samples.get(words) ?? []), total.sample]);
    }
  }
  return [...samples].map(([words, of]) => `${words} (${ofSamples(of, totals)}).`);
}

/** Losses of mass that are, or are not, in the totals. */
function lossTexts(totals: readonly RoutineTotal[]): string[] {
  const samples = new Map<string, string[]>();
  for (const { sample, losses, lossesLeftOut } of totals) {
    const words = [
      ...(losses.length === 0 ? [] : [`In the total: ${losses.join(' and ')}`]),
      ...(lossesLeftOut === null ? [] : [`Not in the total: ${lossesLeftOut}`]),
    ];
    for (const each of words) samples.set(each, [...(samples.get(each) ?? []), sample]);
  }
  return [...samples].map(([words, of]) => `${words} (${ofSamples(of, totals)}).`);
}

function ofSamples(samples: readonly string[], totals: readonly RoutineTotal[]): string {
  return samples.length === totals.length && totals.length > 1 ? 'all totals' : samples.join(', ');
}

function withoutTotalTexts({ results, totals }: RoutineResults): string[] {
  return samplesWithoutTotal(results, totals).map(
    ({ sample, reason }) => `No total of ${sample}: ${reason}.`,
  );
}
