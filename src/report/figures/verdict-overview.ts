import type { Finding, Verdict } from '../../validation/finding.js';
import { column, number, text, verdictCell } from '../cells.js';
import type { Figure } from '../document.js';
import { axis, figureOf, levelLabel, levelLine, plainLabel, tones, verdictSymbols } from './figure-style.js';
import { type RelativeToCriterion, relativeToCriterion } from './relative-to-criterion.js';

/** Beyond this multiple of the criterion a mark stands at the edge. */
const edge = 3;

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
    const label = [finding.analyte, finding.characteristic, finding.level]
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

/**
 * Every finding that has an estimate and a criterion, each on the scale of its own criterion: the mark is the estimate,
 * the bar reaches from the lower to the upper one-sided 95 % limit, and 1 is what is allowed.
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
    traces: verdicts.map((verdict) => traceOf(verdict, marks, rows)),
    layout: {
      xaxis: axis('estimate and limits, relative to the criterion', {
        range: [Math.max(-edge, lowest) - 0.12, edge + 0.12],
        dtick: 1,
      }),
      yaxis: axis('', {
        tickvals: marks.map((mark) => rows.get(mark)),
        ticktext: marks.map(({ label }) => plainLabel(label)),
        range: [0.3, marks.length + 1.3],
        ticks: '',
      }),
      annotations: [levelLabel('up', 1, 'criterion')],
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
      `Criteria of the kind “at least” are inverted, so that at most 1 is allowed throughout; two-sided criteria allow −1 to 1. Marks beyond ${edge} stand at the edge.`,
      ...(left > 0 ? [`${left} finding(s) without estimate, limits or criterion are not drawn.`] : []),
    ],
  });
}
