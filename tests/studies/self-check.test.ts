import { resolve } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { readPublishedFiles } from '../../src/records/published-cases.js';
import { gatherCases, selfCheckTopics } from '../../src/studies/self-check/gather-cases.js';
import { type SelfCheckFigure, selfCheck } from '../../src/studies/self-check/self-check.js';

let rows: SelfCheckFigure[];

beforeAll(async () => {
  rows = selfCheck(
    gatherCases(await readPublishedFiles(resolve(__dirname, '../../data/reference'), selfCheckTopics)),
  );
});

describe('numerical self-check', () => {
  it('agrees with every published figure, or with the arithmetic that its case gives for an exception', () => {
    expect(rows.filter((row) => !row.holds)).toEqual([]);
    expect(rows.length).toBeGreaterThan(300);
  });

  it.each([
    ['JCGM 100 (GUM)', 'H.1'],
    ['JCGM 100 (GUM)', 'H.2'],
    ['JCGM 100 (GUM)', 'H.3'],
    ['JCGM 100 (GUM)', 'H.5'],
    ['JCGM 101', '9.2.2'],
    ['JCGM 101', '9.2.3'],
    ['JCGM 101', '9.2.4'],
    ['JCGM 101', '9.3'],
    ['JCGM 101', '9.4'],
    ['JCGM 106', '9.5.4'],
    ['QUAM', 'A1'],
    ['QUAM', 'A2'],
    ['QUAM', 'A3'],
    ['QUAM', 'A4'],
    ['QUAM', 'A5'],
    ['ISO 5725-2:1994', 'Annex B'],
    ['Currie', 'noncentral t'],
    ['CIPM-2007', 'table 2'],
    ['CIAAW', 'abridged'],
  ])('covers %s, %s', (document, clause) => {
    expect(rows.some((row) => row.source.includes(document) && row.clause.includes(clause))).toBe(true);
  });

  it('covers simulated figures of JCGM 101', () => {
    expect(rows.filter((row) => row.quantity.includes('simulated')).length).toBeGreaterThan(30);
  });

  it('says of each figure whether the document was read', () => {
    const taken = new Set(rows.map((row) => row.figureTakenFrom));
    expect([...taken].every((t) => t === 'document read' || t === 'remembered and recomputed')).toBe(true);
  });

  it('sees a figure that does not agree', async () => {
    const cases = gatherCases(
      await readPublishedFiles(resolve(__dirname, '../../data/reference'), selfCheckTopics),
    );
    const wrong = {
      ...cases,
      own: cases.own.map((c) => (c.calculation === 'detection factors' ? { ...c, degreesOfFreedom: 5 } : c)),
    };
    expect(selfCheck(wrong).filter((row) => !row.holds).length).toBe(2);
  });
});
