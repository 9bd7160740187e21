import { describe, expect, it } from 'vitest';
import { budgetSteps } from '../../src/report/budget/budget-steps.js';
import { budgetTable, distributionName } from '../../src/report/budget/budget-table.js';
import { renderBudgetHtml } from '../../src/report/html/render-budget.js';
import { tableToCsv } from '../../src/report/table-to-csv.js';
import { sampleBudget } from '../support/sample-report.js';

describe('a budget by step', () => {
  const steps = budgetSteps(sampleBudget);

  it('keeps the order in which steps appear and adds shares and squares', () => {
    expect(steps.map(({ step }) => step)).toEqual(['weighing', 'signal', 'blank']);
    // √((500·0.034)² + (462500·2.1e-5)²) = √(17² + 9.7125²) = √383.33265625
    expect(steps[1]?.contribution).toAgreeWithin(19.5788829162953, 1e-14);
    expect(steps[1]?.share).toAgreeWithin(0.84, 1e-12);
  });

  it('loses no line', () => {
    expect(steps.flatMap(({ lines }) => lines)).toHaveLength(sampleBudget.lines.length);
  });
});

describe('a budget on the page', () => {
  it('says whether the expanded uncertainty keeps its target', () => {
    expect(renderBudgetHtml('b', 'B', sampleBudget, 45.1)).toContain('data-verdict="met"');
    expect(renderBudgetHtml('b', 'B', sampleBudget, 45)).toContain('data-verdict="not met"');
    expect(renderBudgetHtml('b', 'B', sampleBudget, null)).not.toContain('data-verdict');
  });

  it('rounds the result to its expanded uncertainty', () => {
    const html = renderBudgetHtml('b', 'B', sampleBudget, null);
    expect(html).toContain('<dd>1850 <span class="unit">mg/kg</span>');
    expect(html).toContain('<dd>45 <span class="unit">mg/kg</span>');
  });

  it('never shows a small share as none', () => {
    expect(renderBudgetHtml('b', 'B', sampleBudget, null)).toContain('&lt;\u20090.05');
  });
});

describe('a budget as a table', () => {
  it('gives each input a row with source, equipment and everything at full precision', () => {
    const lines = tableToCsv(budgetTable(sampleBudget, 'b', 'B')).split('\n');
    expect(lines).toHaveLength(sampleBudget.lines.length + 2);
    expect(lines[1]).toBe(
      'weighing,m_p,mass of the portion,0.2001,0.00012,g,B,Infinity,rectangular,-9250,1.11,0.27,certificate INV-1,BAL-1',
    );
  });

  it('names distributions for readers', () => {
    expect(distributionName({ kind: 'gamma from counts', counts: 12 })).toBe('gamma (12 counts)');
    expect(distributionName({ kind: 'sample', values: [1, 2] })).toBe('sample (2 values)');
    expect(distributionName({ kind: 'arcsine', halfWidth: 1 })).toBe('arcsine');
  });
});
