import type { StudyPlan } from '../../records/study.js';
import { column, empty, number, text } from '../cells.js';
import type { Section, Table } from '../document.js';
import { digitsAsGiven } from '../html/typeset-number.js';
import { sectionOf } from '../section-of.js';

/** Range of an analyte in the solid that the study covers. */
export interface WorkingRange {
  readonly analyte: string;
  readonly low: number;
  readonly high: number;
  readonly unit: string;
}

function rangeText(range: WorkingRange | undefined): string {
  if (range === undefined) return '';
  const shown = (value: number): string => String(Number(value.toPrecision(3)));
  return `${shown(range.low)} to ${shown(range.high)} ${range.unit}`;
}

function scopeTable(plan: StudyPlan, ranges: readonly WorkingRange[]): Table {
  return {
    kind: 'table',
    id: 'scope/analytes',
    caption: 'Analytes, lines and ranges',
    columns: [
      column('Analyte'),
      column('Line', 'nm'),
      column('Second line', 'nm'),
      column('Measured in'),
      column('Reported as'),
      column('Range in the solid'),
      column('Lowest to be reported'),
      column('Unit'),
    ],
    rows: plan.analytes.map((scope) => {
      const range = rangeText(ranges.find(({ analyte }) => analyte === scope.analyte));
      return [
        text(scope.analyte),
        number(scope.lineNm, 6),
        scope.secondLineNm === undefined ? empty('none') : number(scope.secondLineNm, 6),
        text(scope.measuredIn),
        text(scope.oxide ?? scope.analyte),
        range === '' ? empty('not shown') : text(range),
        number(scope.lowestReported, digitsAsGiven(scope.lowestReported)),
        text(scope.unit),
      ];
    }),
    notes: [],
  };
}

/**
 * The scope line: matrix, analytes, lines, ranges in the solid, basis, oxide form, portion, flux and final mass.
 *
 * @param plan the plan of the study
 * @param ranges working ranges shown; an analyte without one is *not shown*
 * @see ISO/IEC 17025:2017, 7.2.2.4 a
 */
export function scopeSection(plan: StudyPlan, ranges: readonly WorkingRange[] = []): Section {
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
          { name: 'Basis of results', value: plan.basis },
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
          { name: 'Blank', value: plan.blank.scaling },
          {
            name: 'A reported result',
            value: `mean of ${resultRule.digestions} digestion(s) of one day, ${resultRule.readings} readings of each`,
          },
          { name: 'Decision rule', value: plan.decisionRule },
        ],
      },
      scopeTable(plan, ranges),
    ],
  });
}
