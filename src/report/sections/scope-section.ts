import { formatSignificant } from '../../quantities/rounding.js';
import type { StudyPlan } from '../../records/study.js';
import { decisionRuleText } from '../../studies/decision-rule.js';
import type { ContentRange, WorkingRange } from '../../studies/matrix/working-ranges.js';
import { basisOfResults } from '../basis-of-results.js';
import { column, empty, number, text } from '../cells.js';
import type { Block, Section, Table } from '../document.js';
import { digitsAsGiven } from '../html/typeset-number.js';
import { sectionOf } from '../section-of.js';

const rounded = (value: number): string => formatSignificant(value, 3);

/** A range in words, to three digits. */
export function rangeText(range: ContentRange): string {
  return `${rounded(range.low)} to ${rounded(range.high)}`;
}

function quantificationText({ quantification, quantificationShown, confirmations }: WorkingRange): string {
  if (quantification === null) return 'none';
  const shown = Number(quantification.toPrecision(2));
  if (!quantificationShown) return `${shown}, not shown`;
  if (confirmations.length === 0) return `${shown}, not digested at it`;
  if (confirmations.includes('contradicted')) return `${shown}, contradicted`;
  return `${shown}, ${confirmations.includes('confirmed') ? 'confirmed' : 'left open'}`;
}

/** What stands between the lowest content that is to be reported and the range that was tested, analyte by analyte. */
function belowTested(plan: StudyPlan, ranges: readonly WorkingRange[]): string[] {
  const gaps = plan.analytes.flatMap(({ analyte, lowestReported, unit }) => {
    const range = ranges.find((r) => r.analyte === analyte);
    if (range?.tested === undefined || range.tested === null || range.tested.low <= lowestReported) return [];
    return [`${analyte} ${lowestReported} to ${rounded(range.tested.low)} ${unit}`];
  });
  if (gaps.length === 0) return [];
  return [
    `Not tested although it is to be reported: ${gaps.join('; ')}. Below the tested range a result rests on calibration and blanks alone: digest a material of such a content before reporting there.`,
  ];
}

/** Analytes whose results are made of two lines. */
function combinedLines({ analytes }: StudyPlan): string[] {
  const made = analytes.flatMap(({ analyte, lineNm, secondLineNm, secondLineShare }) =>
    secondLineShare === undefined
      ? []
      : [
          `${analyte} ${rounded(100 * (1 - secondLineShare))} % of ${lineNm} nm and ${rounded(100 * secondLineShare)} % of ${secondLineNm} nm`,
        ],
  );
  return made.length === 0 ? [] : [`Results of both lines together: ${made.join('; ')}.`];
}

function scopeTable(plan: StudyPlan, ranges: readonly WorkingRange[]): Table {
  return {
    kind: 'table',
    id: 'scope/analytes',
    caption: 'Analytes, lines and ranges of contents in the solid',
    columns: [
      column('Analyte'),
      column('Line', 'nm'),
      column('Second line', 'nm'),
      column('Measured in'),
      column('Reported as'),
      column('Unit'),
      column('Working range: tested'),
      column('Calibrated'),
      column('Lowest to be reported'),
      column('Limit of quantification, and whether digestions at it confirmed it'),
    ],
    rows: plan.analytes.map((scope) => {
      const range = ranges.find(({ analyte }) => analyte === scope.analyte);
      return [
        text(scope.analyte),
        number(scope.lineNm, 6),
        scope.secondLineNm === undefined ? empty('none') : number(scope.secondLineNm, 6),
        text(scope.measuredIn),
        text(scope.oxide ?? scope.analyte),
        text(scope.unit),
        range?.tested ? text(rangeText(range.tested)) : empty('not shown'),
        range === undefined ? empty('not calibrated') : text(rangeText(range.calibrated)),
        number(scope.lowestReported, digitsAsGiven(scope.lowestReported)),
        range === undefined ? empty('none') : text(quantificationText(range)),
      ];
    }),
    notes: [
      'Working range: contents in the solid, in the form reported, at which precision or trueness was shown by digestions over days (reference materials by what is certified, samples of the levels of the plan by what was found, unless trueness of the analyte is “not met”, since what was found is then no content), within what is calibrated; a sample at the limit of quantification is no part of it. Calibrated: what the standards cover at nominal masses, at most the whole of the solid.',
      ...combinedLines(plan),
      ...belowTested(plan, ranges),
      'A limit of quantification is worked out from blanks and target uncertainty. Confirmed, contradicted or left open: what digestions of a material of about that content said of it (figures under “Limit of quantification”); not digested at it: there was no such material. Between that limit and the lowest standard a content is read below the calibrated range, on the line drawn on towards the blank.',
    ],
  };
}

/**
 * The scope line: matrix, analytes, lines, ranges in the solid, basis, oxide form, portion, flux and final mass.
 *
 * @param plan the plan of the study
 * @param ranges tested and calibrated ranges; an analyte without one is *not shown*
 * @param more blocks after the table of analytes, such as the samples of the study
 * @see ISO/IEC 17025:2017, 7.2.2.4 a
 */
export function scopeSection(
  plan: StudyPlan,
  ranges: readonly WorkingRange[] = [],
  more: readonly Block[] = [],
): Section {
  const { nominal, internalStandard: standard, resultRule } = plan;
  return sectionOf({
    id: 'scope',
    heading: 'Scope',
    clause: 'ISO/IEC 17025:2017, 7.2.2.4 a',
    blocks: [
      {
        kind: 'facts',
        facts: [
          { name: 'Matrix', value: plan.matrix },
          { name: 'Method and line', value: `${plan.method}, ${plan.line}` },
          { name: 'Intended use', value: plan.intendedUse },
          { name: 'Basis of results', value: basisOfResults(plan) },
          {
            name: 'Portion, flux, solution',
            value: `${nominal.portionG} g, ${nominal.fluxG} g, ${nominal.solutionG} g`,
          },
          { name: 'Flux lot', value: plan.fluxLot },
          {
            name: 'Internal standard',
            value: `${standard.element} ${standard.lineNm} nm, ${standard.mode}, ${standard.doseMgPerKg} mg/kg at the plasma`,
          },
          { name: 'Calibration in', value: plan.calibration.basis },
          { name: 'Blank', value: blankRule(plan.blank.scaling) },
          {
            name: 'A reported result',
            value: `mean of ${resultRule.digestions} digestion(s) of one day, ${resultRule.readings} readings of each`,
          },
          { name: 'Decision rule', value: decisionRuleText(plan) },
        ],
      },
      scopeTable(plan, ranges),
      ...more,
    ],
  });
}

function blankRule(scaling: StudyPlan['blank']['scaling']): string {
  return scaling === 'per flux mass and digestion'
    ? 'line over the mass of flux through the procedure blanks, subtracted at the flux of each digestion'
    : `mean of the procedure blanks, subtracted ${scaling}`;
}
