import type { Finding } from '../../validation/finding.js';
import { column, empty, estimateCell, text, verdictCell } from '../cells.js';
import type { Cell, Table } from '../document.js';
import { criterionText } from './criterion-text.js';
import { analyteName, characteristicId, findingRank, findingsInOrder } from './finding-order.js';

function row(finding: Finding): Cell[] {
  const { analyte, characteristic, level, estimate, limits, unit, criterion, verdict } = finding;
  return [
    text(analyteName(analyte)),
    text(characteristic, characteristicId(characteristic)),
    text(level === '*' ? 'all levels' : level),
    estimateCell(estimate),
    estimateCell(limits?.lowerOneSided ?? null),
    estimateCell(limits?.upperOneSided ?? null),
    text(unit),
    criterion === null ? empty('none set') : text(criterionText(criterion)),
    verdictCell(verdict),
    text(remarkOn(finding)),
  ];
}

/** What the figures of the row do not tell. */
function remarkOn({ verdict, limits, conditions }: Finding): string {
  if (conditions !== undefined && conditions.length > 0) return 'on a condition, stated below';
  return verdict === 'not shown' && limits === null ? 'its section says why' : '';
}

/** Each condition that a *met* verdict rests on, with the findings that it bears on. */
export function conditionNotes(findings: readonly Finding[]): string[] {
  const levels = new Map<string, string[]>();
  for (const { characteristic, analyte, level, conditions = [] } of findings) {
    for (const condition of conditions) {
      const key = JSON.stringify([analyteName(analyte), characteristic, condition]);
      levels.set(key, [...(levels.get(key) ?? []), level]);
    }
  }
  return [...levels].map(([key, own]) => {
    const [analyte, characteristic, condition] = JSON.parse(key) as [string, string, string];
    return `${analyte} (${own.join(', ')}): ${characteristic} is met on a condition: ${condition}.`;
  });
}

/**
 * All findings with estimate, one-sided 95 % limits, criterion and verdict, gathered by analyte; in each group stands first
 * what needs attention.
 *
 * @param id identifier of the table
 * @param findings each leads to the section of its characteristic (`characteristicSection`), which the document must hold
 */
export function verdictTable(id: string, findings: readonly Finding[]): Table {
  return {
    kind: 'table',
    id,
    caption: 'Verdicts by analyte; what needs attention stands first',
    columns: [
      column('Analyte'),
      column('Characteristic'),
      column('Level'),
      column('Estimate'),
      column('Lower limit'),
      column('Upper limit'),
      column('Unit'),
      column('Criterion'),
      column('Verdict'),
      column('Remark'),
    ],
    rows: findingsInOrder(findings).map(row),
    notes: [
      'Limits are one-sided at 95 % confidence. Met: the limit on the unfavourable side keeps the criterion. Not met: even the limit on the favourable side fails it. Not shown: neither, or too few data for any verdict whatever the values. None: the figure has no sampling error of its own (a computed uncertainty, the worst of single readings, a longest tested time) and is compared as it stands, unless a ground in its section stands in the way, such as a bias that the figure does not hold.',
      ...conditionNotes(findings),
    ],
    groupedBy: 0,
  };
}

/** Which verdicts *met* bear conditions, in one sentence: the conditions themselves stand with the findings. */
function conditionalNote(findings: readonly Finding[]): string[] {
  const bearers = findings.filter(({ conditions = [] }) => conditions.length > 0);
  if (bearers.length === 0) return [];
  const names = [...new Set(bearers.map((f) => f.characteristic))].map((characteristic) => {
    const own = bearers.filter((f) => f.characteristic === characteristic);
    return `${characteristic} of ${[...new Set(own.map((f) => analyteName(f.analyte)))].join(', ')}`;
  });
  return [`Met on a condition only, stated below all findings: ${names.join('; ')}.`];
}

/** Characteristics without a verdict, which have no place among verdicts. */
function withoutCriterion(characteristics: readonly string[]): string[] {
  if (characteristics.length === 0) return [];
  return [`Estimated without a criterion, so without a verdict: ${characteristics.join(', ')}.`];
}

/**
 * One page for all: characteristics down, analytes across, in each place the verdict over all levels that needs most
 * attention.
 *
 * @param id identifier of the table
 * @param findings those of all analytes (`*`) have a column of their own
 */
export function verdictMatrix(id: string, findings: readonly Finding[]): Table {
  const analytes = [...new Set(findings.map(({ analyte }) => analyte))];
  const all = [...new Set(findings.map(({ characteristic }) => characteristic))];
  const isJudged = (characteristic: string) =>
    findings.some((f) => f.characteristic === characteristic && f.verdict !== 'no criterion');
  const characteristics = all.filter(isJudged);
  const worst = (characteristic: string, analyte: string): Cell => {
    const [first] = findings
      .filter((finding) => finding.characteristic === characteristic && finding.analyte === analyte)
      .sort((one, other) => findingRank(one) - findingRank(other));
    return first === undefined ? empty('') : verdictCell(first.verdict);
  };
  return {
    kind: 'table',
    id,
    caption: 'Verdicts at a glance',
    columns: [column('Characteristic'), ...analytes.map((analyte) => column(analyteName(analyte)))],
    rows: characteristics.map((characteristic) => [
      text(characteristic, characteristicId(characteristic)),
      ...analytes.map((analyte) => worst(characteristic, analyte)),
    ]),
    notes: [
      'Of several levels, the verdict that needs most attention. Empty: not studied and not asked for; a criterion for all analytes asks only where the plan names the means (a second line, an interferent, the analyte of a design).',
      ...conditionalNote(findings),
      ...withoutCriterion(all.filter((characteristic) => !isJudged(characteristic))),
    ],
  };
}
