import { describe, expect, it } from 'vitest';
import { verdictOverview } from '../../../src/report/figures/verdict-overview.js';
import type { Finding } from '../../../src/validation/finding.js';
import { sampleFindings } from '../../support/sample-figures.js';

const pattern = sampleFindings.find(({ limits, criterion }) => limits !== null && criterion !== null)!;

function biasOf(estimate: number, half: number, more: Partial<Finding> = {}): Finding {
  const limits = {
    lowerOneSided: estimate - half,
    upperOneSided: estimate + half,
    low: estimate - 1.2 * half,
    high: estimate + 1.2 * half,
  };
  const criterion = { kind: 'within', limit: 4, unit: '%', reason: '', owner: '' } as const;
  return { ...pattern, estimate, limits, criterion, ...more };
}

function arrowsOf(findings: readonly Finding[]): Record<string, unknown> | undefined {
  return verdictOverview('v', 'Verdicts', findings).traces.find(({ mode }) => mode === 'markers+text');
}

describe('the figure of estimates against criteria', () => {
  it('marks what goes on beyond its edge by an arrow with the value, on either side', () => {
    const arrows = arrowsOf([biasOf(19, 1), biasOf(0, 1), biasOf(-10.8, 2)]);
    // In units of the allowed 4 %: upper limit 20 / 4 and lower limit −12.8 / 4.
    expect(arrows?.text).toEqual(['5', '\u22123.2']);
    expect(arrows?.x).toEqual([3, -3]);
    expect(arrows?.y).toEqual([3, 1]);
  });

  it('has no arrow where everything fits', () => {
    expect(arrowsOf([biasOf(1, 1)])).toBeUndefined();
  });

  it('shortens a long label beside the axis and keeps it whole in the table', () => {
    const level = 'X-ray fluorescence, a laboratory with a long name';
    const { layout, table } = verdictOverview('v', 'Verdicts', [biasOf(1, 1, { level })]);
    const [label] = (layout.yaxis as { ticktext: string[] }).ticktext;
    expect(label).toMatch(/^.{1,41}…$/);
    expect(JSON.stringify(table.rows)).toContain(level);
  });

  it('writes out that a finding concerns all analytes or all levels', () => {
    const { table } = verdictOverview('v', 'Verdicts', [biasOf(1, 1, { analyte: '*', level: '*' })]);
    const [label] = table.rows[0]!;
    expect(label).toEqual({
      kind: 'text',
      text: `all analytes · ${pattern.characteristic} · all levels`,
    });
  });
});
