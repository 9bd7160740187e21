import { describe, expect, it } from 'vitest';
import type { Block, Table } from '../../../src/report/document.js';
import { selfCheckSection } from '../../../src/report/sections/self-check-section.js';
import type { AgreementKind } from '../../../src/studies/self-check/agreement.js';

const figure = (clause: string, agreement: AgreementKind) => ({
  source: 'JCGM 100 (GUM)',
  clause,
  quantity: `figure of ${clause}`,
  published: '32',
  computed: agreement === 'agrees' ? 32 : 33,
  digits: 2,
  agreement,
  ...(agreement === 'explained exception' ? { why: '3 x 11 = 33 without rounding' } : {}),
  figureTakenFrom: 'document read' as const,
});
const rows = [figure('H.1', 'agrees'), figure('H.1', 'explained exception'), figure('H.2', 'differs')];
const tables = (blocks: readonly Block[]) => blocks.filter((block): block is Table => block.kind === 'table');
const column = (table: Table, heading: string) => {
  const index = table.columns.findIndex((c) => c.heading === heading);
  return table.rows.map((row) => row[index]);
};

describe('the numerical self-check of a report', () => {
  it('counts the figures of each example by kind of agreement', () => {
    const [examples] = tables(selfCheckSection(rows).blocks);
    const counts = (heading: string) =>
      column(examples!, heading).map((cell) => (cell as { value: number }).value);
    expect(counts('Figures')).toEqual([2, 1]);
    expect(counts('Agrees')).toEqual([1, 0]);
    expect(counts('Explained exception')).toEqual([1, 0]);
    expect(counts('Differs')).toEqual([0, 1]);
  });

  it('says in words what does not agree, and gives the arithmetic of exceptions', () => {
    const { blocks } = selfCheckSection(rows);
    expect(JSON.stringify(blocks[0])).toContain('of 3 published figures 1 agree');
    expect(JSON.stringify(blocks[0])).toContain('1 differ');
    expect(JSON.stringify(tables(blocks)[1])).toContain('3 x 11 = 33 without rounding');
  });

  it('shows a computed figure with two digits more than were printed, however well it agrees', () => {
    const exact = { ...figure('H.3', 'agrees'), published: '0.2410', computed: 0.241, digits: 15 };
    const [every] = tables(selfCheckSection([exact], 'every figure').blocks);
    expect(column(every!, 'Computed')).toEqual([{ kind: 'number', value: 0.241, digits: 6 }]);
  });

  it('holds every figure where that is asked for', () => {
    const [every] = tables(selfCheckSection(rows, 'every figure').blocks);
    expect(column(every!, 'Agreement').map((cell) => (cell as { text: string }).text)).toEqual(
      rows.map(({ agreement }) => agreement),
    );
  });
});
