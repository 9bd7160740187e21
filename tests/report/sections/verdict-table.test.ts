import { describe, expect, it } from 'vitest';
import type { Cell } from '../../../src/report/document.js';
import { characteristicSection, rowsText } from '../../../src/report/sections/characteristic-section.js';
import { criterionText } from '../../../src/report/sections/criterion-text.js';
import { verdictMatrix, verdictTable } from '../../../src/report/sections/verdict-table.js';
import type { Finding } from '../../../src/validation/finding.js';
import { sampleFinding, sampleFindings } from '../../support/sample-figures.js';

const shown = (cell: Cell | undefined): string => {
  if (cell === undefined) return '';
  if (cell.kind === 'text') return cell.text;
  if (cell.kind === 'verdict') return cell.verdict;
  return cell.kind === 'number' ? String(cell.value) : cell.reason;
};
const criterion = { kind: 'at most', limit: 2, unit: '%', reason: 'need', owner: 'S. Varrendale' } as const;

describe('the table of verdicts', () => {
  const table = verdictTable('t', sampleFindings);

  it('gathers findings by analyte and puts first what needs attention', () => {
    const order = table.rows.map((row) => [shown(row[0]), shown(row.at(-2))]);
    expect(order.slice(0, 4)).toEqual([
      ['Al', 'not met'],
      ['Al', 'not shown'],
      ['Al', 'met'],
      ['Al', 'met'],
    ]);
    expect(order.slice(4).map(([, verdict]) => verdict)).toEqual([
      'not shown',
      'not shown',
      'met',
      'no criterion',
      'not studied',
    ]);
  });

  it('puts a characteristic that was asked for and not studied before those that are met', () => {
    const missing = sampleFinding('linearity', 'Al', '*', null, criterion, 'not studied');
    const rows = verdictTable('t', [...sampleFindings, missing]).rows;
    expect(shown(rows[2]?.[1])).toBe('linearity');
    expect(shown(rows[2]?.[2])).toBe('all levels');
  });

  it('prints both one-sided limits and the criterion beside the estimate', () => {
    expect(table.rows[0]?.map(shown)).toEqual([
      'Al',
      'trueness',
      'QRM-1',
      '5.1',
      '3.6',
      '6.6',
      '%',
      '\u22123 to 3 %',
      'not met',
      '',
    ]);
  });

  it('remarks on a verdict that the figures of its row do not explain', () => {
    const stated = sampleFinding('target uncertainty', 'Al', 'low', [0, 0.9, 0], criterion, 'not shown');
    const open = { ...stated, limits: null };
    const bound = { ...stated, verdict: 'met' as const, conditions: ['the blank is not shown'] };
    const remarks = [open, bound, { ...stated, verdict: 'met' as const }].map((finding) =>
      shown(verdictTable('t', [finding]).rows[0]!.at(-1)),
    );
    expect(remarks).toEqual(['its section says why', 'on a condition, stated below', '']);
  });

  it('shows in the matrix the verdict over all levels that needs most attention', () => {
    const matrix = verdictMatrix('m', sampleFindings);
    const row = matrix.rows.find((cells) => shown(cells[0]) === 'trueness');
    expect(matrix.columns.map(({ heading }) => heading)).toEqual(['Characteristic', 'Al', 'Ca']);
    expect(row?.map(shown)).toEqual(['trueness', 'not met', '']);
  });
});

describe('the section of a characteristic', () => {
  const findings = sampleFindings.filter(({ characteristic }) => characteristic === 'trueness');
  const section = characteristicSection(findings as [Finding, ...Finding[]]);

  it('gives estimate, both limits, interval, degrees of freedom, number, ground, rows and clause', () => {
    const text = JSON.stringify(section);
    for (const part of [
      '3.60 to 6.60',
      '9.4',
      '20',
      findings[0]!.reason,
      'D-001, D-002',
      'ISO 5725-2:2019, 7.4',
      'need of the customer',
    ]) {
      expect(text).toContain(part);
    }
  });

  it('says a note of several findings once, led by the analytes and levels it speaks of', () => {
    const list = (own: readonly Finding[]) =>
      characteristicSection(own as [Finding, ...Finding[]]).blocks.filter(({ kind }) => kind === 'list');
    expect(list(findings)).toEqual([{ kind: 'list', items: ['All rows: An invented note.'] }]);
    const [first, ...others] = findings;
    const one = [first!, ...others.map((finding) => ({ ...finding, notes: [] }))];
    expect(list(one)).toEqual([
      { kind: 'list', items: [`${first!.analyte} (${first!.level}): An invented note.`] },
    ]);
  });

  it('shortens long lists of rows and says where all of them are', () => {
    const keys = Array.from({ length: 20 }, (_, index) => `D-${index + 1}`);
    expect(rowsText({ table: 'digestions', keys })).toBe(
      'digestions: D-1 to D-20, 20 rows in all, each in the JSON of this report',
    );
  });
});

describe('a criterion in short form', () => {
  it('keeps its limits as they were given', () => {
    expect(criterionText(criterion)).toBe('≤ 2 %');
    expect(criterionText({ ...criterion, kind: 'at least', limit: 0.9, unit: '1' })).toBe('≥ 0.9');
    expect(criterionText({ ...criterion, kind: 'within', lower: 97.5, limit: 102.5, unit: 'g/100 g' })).toBe(
      '97.5 to 102.5 g/100 g',
    );
  });
});
