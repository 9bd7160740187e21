import { describe, expect, it } from 'vitest';
import type { Block, Section } from '../../../src/report/document.js';
import { renderHtml } from '../../../src/report/render-html.js';
import { renderJson } from '../../../src/report/render-json.js';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { htmlElements } from '../../support/html-elements.js';
import { sampleDossier } from '../../support/sample-dossier.js';
import { sampleFindings } from '../../support/sample-figures.js';

const { records } = zirconPigmentStudy({ seed: 1 });
const dossier = sampleDossier(records, sampleFindings);
const html = renderHtml(dossier, { figures: 'tables only' });

const all = (sections: readonly Section[]): Section[] =>
  sections.flatMap((section) => [section, ...all(section.sections)]);
const words = (text: string) => text.replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ');

describe('a whole dossier', () => {
  it('renders to sound HTML with all its sections in the contents', () => {
    expect(() => htmlElements(html)).not.toThrow();
    for (const { heading } of dossier.sections)
      expect(words(html.slice(0, html.indexOf('<main')))).toContain(heading);
  });

  it('answers each record that ISO/IEC 17025:2017, 7.2.2.4 asks for', () => {
    const clauses = all(dossier.sections)
      .map(({ clause }) => clause)
      .join(' ');
    for (const item of ['7.2.2.4 a', '7.2.2.4 c', '7.2.2.4 d', '7.2.2.4 e', ', b'])
      expect(clauses).toContain(item);
  });

  it('puts the verdicts first', () => {
    expect(dossier.sections[0]?.id).toBe('verdicts');
  });

  it('names every file, person, balance, standard, exclusion and criterion of the records', () => {
    const text = words(html);
    const names = [
      'ba7816bf',
      ...records.plan.people.map(({ name }) => name),
      ...records.equipment.flatMap(({ id, dueOn }) => [id, dueOn]),
      ...records.standards.map(({ certificate }) => certificate),
      ...records.references.map(({ material }) => material),
      ...records.exclusions.map(({ rowKey }) => rowKey),
      ...records.plan.criteria.map(({ reason }) => reason),
      ...records.plan.analytes.map(({ oxide, analyte }) => oxide ?? analyte),
    ];
    expect(names.length).toBeGreaterThan(60);
    expect(names.filter((name) => !text.includes(name.replace(/'/g, '&#39;')))).toEqual([]);
  });

  it('leaves the places for signatures empty', () => {
    const row = /<tr><th scope="row">Authorised<\/th>(.*?)<\/tr>/.exec(html)?.[1];
    expect(row).toBe('<td></td><td></td><td></td>');
  });

  it('carries every finding into JSON at full precision', () => {
    const read = JSON.parse(renderJson(dossier)) as { data: { findings: unknown } };
    expect(read.data.findings).toEqual(sampleFindings);
  });

  it('holds blocks of every kind', () => {
    const kinds = new Set(
      all(dossier.sections).flatMap(({ blocks }) => blocks.map(({ kind }: Block) => kind)),
    );
    expect([...kinds].sort()).toEqual([
      'budget',
      'caution',
      'equation',
      'facts',
      'figure',
      'list',
      'paragraph',
      'signatures',
      'table',
    ]);
  });
});
