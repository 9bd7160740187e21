import type { Finding, Verdict } from '../../validation/finding.js';
import { column, number, text, verdictCell } from '../cells.js';
import type { Figure } from '../document.js';
import { analyteName } from '../sections/finding-order.js';
import { axis, figureOf, levelLabel, levelLine, plainLabel, tones, verdictSymbols } from './figure-style.js';
import { type RelativeToCriterion, relativeToCriterion } from './relative-to-criterion.js';

/** Beyond this multiple of the criterion a mark stands at the edge. */
const edge = 3;

/** Characters of a label beside the axis. */
const longestLabel = 42;

interface Mark {
  readonly label: string;
  readonly finding: Finding;
  readonly relative: RelativeToCriterion;
}

function marksOf(findings: readonly Finding[]): Mark[] {
  return findings.flatMap((finding) => {
    const { estimate, limits, criterion } = finding;
    if (estimate === null || limits === null || criterion === null) return [];
    const relative = relativeToCriterion(estimate, limits, criterion);
    const level = finding.level === '*' ? 'all levels' : finding.level;
    const label = [analyteName(finding.analyte), finding.characteristic, level]
      .filter((part) => part !== '')
      .join(' · ');
    return relative === null ? [] : [{ label, finding, relative }];
  });
}

const clipped = (value: number): number => Math.max(-edge, Math.min(edge, value));

function traceOf(
  verdict: Verdict,
  marks: readonly Mark[],
  rows: ReadonlyMap<Mark, number>,
): Record<string, unknown> {
  const own = marks.filter(({ finding }) => finding.verdict === verdict);
  const x = own.map(({ relative }) => clipped(relative.estimate));
  return {
    type: 'scatter',
    mode: 'markers',
    name: verdict,
    showlegend: true,
    x,
    y: own.map((mark) => rows.get(mark)),
    text: own.map(({ label }) => plainLabel(label)),
    hovertemplate: '%{text}: %{x:.2f}<extra></extra>',
    marker: {
      symbol: verdictSymbols[verdict],
      size: 10,
      color: tones.ink,
      line: { color: tones.ink, width: 1.4 },
    },
    error_x: {
      type: 'data',
      symmetric: false,
      array: own.map(({ relative }, index) => clipped(relative.high) - (x[index] ?? 0)),
      arrayminus: own.map(({ relative }, index) => (x[index] ?? 0) - clipped(relative.low)),
      color: tones.ink,
      thickness: 1.2,
      width: 4,
    },
  };
}

/** Arrows at the edge for what goes on beyond it, each with the value that stands there. */
function beyondTrace(marks: readonly Mark[], rows: ReadonlyMap<Mark, number>): Record<string, unknown>[] {
  const arrows = marks.flatMap((mark) => {
    const { low, high } = mark.relative;
    const at = (value: number, side: 'left' | 'right') => ({ y: rows.get(mark), value, side });
    return [...(low < -edge ? [at(low, 'left')] : []), ...(high > edge ? [at(high, 'right')] : [])];
  });
  if (arrows.length === 0) return [];
  return [
    {
      type: 'scatter',
      mode: 'markers+text',
      name: `goes on to the value beside it, beyond ${edge}`,
      showlegend: true,
      x: arrows.map(({ side }) => (side === 'left' ? -edge : edge)),
      y: arrows.map(({ y }) => y),
      text: arrows.map(({ value }) => shortText(value)),
      textposition: arrows.map(({ side }) => (side === 'left' ? 'middle right' : 'middle left')),
      textfont: { size: 11, color: tones.ink },
      hovertemplate: '%{text}<extra></extra>',
      marker: { symbol: arrows.map(({ side }) => `triangle-${side}`), size: 9, color: tones.ink },
    },
  ];
}

/** A label that leaves the drawing its room; the table has it whole. */
function shortened(label: string): string {
  return label.length <= longestLabel ? label : `${label.slice(0, longestLabel - 1).trimEnd()}…`;
}

function shortText(value: number): string {
  if (!Number.isFinite(value)) return '∞';
  return String(Number(value.toPrecision(2))).replace('-', '\u2212');
}

/**
 * Every finding that has an estimate and a criterion, each on the scale of its own criterion: the mark is the estimate,
 * the bar reaches from the lower to the upper one-sided 95 % limit, and 1 is what is allowed. What lies beyond the edge is
 * marked by an arrow with its value.
 *
 * @param id identifier of the figure
 * @param caption caption; the meaning of mark, bar and 1 is added in the notes of the table
 * @param findings drawn from top to bottom in the order given; those without estimate or criterion are left out and counted
 * @returns figure with one row a finding
 */
export function verdictOverview(id: string, caption: string, findings: readonly Finding[]): Figure {
  const marks = marksOf(findings);
  const rows = new Map(marks.map((mark, index) => [mark, marks.length - index]));
  const lowest = Math.min(0, ...marks.map(({ relative }) => relative.low));
  const verdicts = (['met', 'not met', 'not shown'] as const).filter((verdict) =>
    marks.some(({ finding }) => finding.verdict === verdict),
  );
  const left = findings.length - marks.length;
  return figureOf({
    id,
    caption,
    height: 124 + 21 * marks.length,
    traces: [...verdicts.map((verdict) => traceOf(verdict, marks, rows)), ...beyondTrace(marks, rows)],
    layout: {
      xaxis: axis('estimate ÷ criterion', {
        range: [Math.max(-edge, lowest) - 0.12, edge + 0.12],
        dtick: 1,
      }),
      yaxis: axis('', {
        tickvals: marks.map((mark) => rows.get(mark)),
        ticktext: marks.map(({ label }) => plainLabel(shortened(label))),
        range: [0.3, marks.length + 1.3],
        ticks: '',
      }),
      annotations: [
        levelLabel('up', 1, 'criterion'),
        ...(lowest < -1 ? [{ ...levelLabel('up', -1, 'criterion on the low side'), xanchor: 'right' }] : []),
      ],
      shapes: [levelLine('up', 1, 'solid'), ...(lowest < 0 ? [levelLine('up', -1, 'solid')] : [])],
    },
    columns: [
      column('Finding'),
      column('Lower one-sided limit', 'of criterion'),
      column('Estimate', 'of criterion'),
      column('Upper one-sided limit', 'of criterion'),
      column('Verdict'),
    ],
    rows: marks.map(({ label, finding, relative }) => [
      text(label),
      number(relative.low, 3),
      number(relative.estimate, 3),
      number(relative.high, 3),
      verdictCell(finding.verdict),
    ]),
    notes: [
      `Criteria of the kind “at least” are inverted, so that at most 1 is allowed throughout; criteria with two sides allow −1 to 1, where a negative figure lies on the low side of the middle of what is allowed. What lies beyond ${edge} stands at the edge with an arrow and its value.`,
      ...(left > 0 ? [`${left} finding(s) without estimate, limits or criterion are not drawn.`] : []),
    ],
  });
}
