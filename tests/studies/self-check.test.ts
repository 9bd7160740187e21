import { resolve } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { readPublishedFiles } from '../../src/records/published-cases.js';
import { gatherCases, selfCheckTopics } from '../../src/studies/self-check/gather-cases.js';
import { type SelfCheckFigure, selfCheck } from '../../src/studies/self-check/self-check.js';
import { selfCheckSummary } from '../../src/studies/self-check/summary.js';
import { roundsTo } from '../../src/uncertainty/reference-case/evaluate-reference-case.js';
import type { ReferenceException } from '../../src/uncertainty/reference-case/reference-case.js';

let rows: SelfCheckFigure[];

beforeAll(async () => {
  rows = selfCheck(
    gatherCases(await readPublishedFiles(resolve(__dirname, '../../data/reference'), selfCheckTopics)),
  );
});

describe('numerical self-check', () => {
  it('differs nowhere, and counts what does not round to the printed figure apart', () => {
    expect(rows.filter((row) => row.agreement === 'differs')).toEqual([]);
    const { figures, counts } = selfCheckSummary(rows);
    expect(figures).toBeGreaterThan(300);
    expect(counts.agrees).toBe(rows.filter((row) => roundsTo(row.computed, row.published)).length);
    for (const kind of [
      'within simulation error',
      'within printed uncertainty',
      'explained exception',
    ] as const) {
      const own = rows.filter((row) => row.agreement === kind);
      expect(own.length).toBeGreaterThan(0);
      expect(own.filter((row) => roundsTo(row.computed, row.published))).toEqual([]);
    }
  });

  it('gives the arithmetic of every exception', () => {
    const exceptions = rows.filter((row) => row.agreement === 'explained exception');
    expect(exceptions.every((row) => (row.why ?? '').length > 20)).toBe(true);
    expect(rows.filter((row) => row.why !== undefined)).toEqual(exceptions);
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
    expect(selfCheck(wrong).filter((row) => row.agreement === 'differs').length).toBe(2);
  });

  it('sees an exception whose computed figure is not the one explained', async () => {
    const cases = gatherCases(
      await readPublishedFiles(resolve(__dirname, '../../data/reference'), selfCheckTopics),
    );
    const off = <T extends { exceptions?: readonly ReferenceException[] }>(c: T): T =>
      c.exceptions === undefined
        ? c
        : { ...c, exceptions: c.exceptions.map((e) => ({ ...e, computed: e.computed * (1 + 1e-6) })) };
    const { counts } = selfCheckSummary(
      selfCheck({ ...cases, generic: cases.generic.map(off), own: cases.own.map(off) }),
    );
    expect(counts['explained exception']).toBe(0);
    expect(counts.differs).toBe(selfCheckSummary(rows).counts['explained exception']);
  });
});
