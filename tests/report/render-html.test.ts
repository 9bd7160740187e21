import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import type { ReportDocument, Section } from '../../src/report/document.js';
import { renderHtml } from '../../src/report/render-html.js';
import { htmlElements } from '../support/html-elements.js';
import { sampleReport } from '../support/sample-report.js';

const html = renderHtml(sampleReport);

/** Puts a hostile text in the place of every text of a document, identifiers and links included. */
function withHostileText(value: unknown, hostile: string, key = ''): unknown {
  if (typeof value === 'string') {
    return ['kind', 'verdict', 'type', 'expression', 'mode', 'evaluation', 'sourceKind'].includes(key) ||
      value === ''
      ? value
      : `${hostile}${value}`;
  }
  if (Array.isArray(value)) return value.map((item) => withHostileText(item, hostile, key));
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).map(([name, item]) => [name, withHostileText(item, hostile, name)]),
  );
}

function ofOneSection(section: Partial<Section>): ReportDocument {
  const whole = { id: 's', heading: 'S', clause: '', blocks: [], sections: [], ...section };
  return { title: 'T', subtitle: '', banner: '', facts: [], data: null, sections: [whole] };
}

describe('a rendered report', () => {
  it('closes every element it opens, and gives each anchor once', () => {
    const ids = htmlElements(html).flatMap(({ attributes }) => ('id' in attributes ? [attributes.id] : []));
    expect(ids.length).toBeGreaterThan(5);
    expect(new Set(ids).size).toBe(ids.length);
  });

  it('leads from the contents and from tables to anchors that exist', () => {
    const elements = htmlElements(html);
    const ids = new Set(elements.map(({ attributes }) => attributes.id));
    const links = elements.filter(({ name }) => name === 'a').map(({ attributes }) => attributes.href ?? '');
    expect(links).toContain('#precision');
    expect(links.filter((link) => !(link.startsWith('#') && ids.has(link.slice(1))))).toEqual([]);
  });

  it('names its language, its headings in order, and the scope of every table head', () => {
    const elements = htmlElements(html);
    expect(elements.find(({ name }) => name === 'html')?.attributes.lang).toBe('en');
    const levels = elements.flatMap(({ name }) => (/^h[1-6]$/.test(name) ? [Number(name[1])] : []));
    expect(levels.filter((level) => level === 1)).toHaveLength(1);
    levels.forEach((level, index) => {
      if (index > 0) expect(level).toBeLessThanOrEqual((levels[index - 1] ?? 0) + 1);
    });
    const heads = elements.filter(({ name }) => name === 'th');
    expect(heads.length).toBeGreaterThan(10);
    expect(heads.filter(({ attributes }) => !('scope' in attributes))).toEqual([]);
  });

  it('asks for nothing outside the file', () => {
    const outside = htmlElements(html).filter(
      ({ name, attributes }) =>
        ['link', 'img', 'iframe', 'object', 'embed'].includes(name) || 'src' in attributes,
    );
    expect(outside).toEqual([]);
    expect(html.slice(0, 40_000)).toContain("default-src 'none'");
  });

  it('lets only the scripts it set itself run', () => {
    const scripts = [...html.matchAll(/<script>([\s\S]*?)<\/script>/g)].map((match) => match[1] ?? '');
    expect(scripts).toHaveLength(2);
    for (const script of scripts) {
      expect(html.includes(`'sha256-${createHash('sha256').update(script).digest('base64')}'`)).toBe(true);
    }
  });

  it('holds the drawing library once, and not at all where no figure is drawn', () => {
    const mark = 'plotly.js (cartesian - minified)';
    expect(html.split(mark).length).toBe(2);
    expect(renderHtml(sampleReport, { figures: 'tables only' }).includes(mark)).toBe(false);
    expect(renderHtml(ofOneSection({})).includes(mark)).toBe(false);
  });

  it('prints the banner on every page and shows it on the screen', () => {
    expect(html.slice(0, 40_000)).toContain('<p class="banner">Invented demonstration data</p>');
    expect(html.slice(0, 40_000)).toContain('@top-center{content:"Invented demonstration data"');
  });

  it('shows a verdict by shape and by word', () => {
    for (const verdict of ['met', 'not met', 'not shown', 'no criterion', 'not studied']) {
      expect(html.slice(0, 40_000)).toMatch(
        new RegExp(`data-verdict="${verdict}"><svg [^>]*>.+?</svg><span>${verdict}</span>`),
      );
    }
  });

  it.each([
    '</script><script>alert(1)</script>',
    '</style><img src=x onerror=alert(1)>',
    '"><svg onload=alert(1)>',
    '<!--',
    '{{\u202e}}&lt;\u0000',
  ])('keeps the hostile text %j text, wherever it stands', (hostile) => {
    const clean = htmlElements(html);
    const page = renderHtml(withHostileText(sampleReport, hostile) as ReportDocument);
    const elements = htmlElements(page);
    expect(elements.map(({ name }) => name)).toEqual(clean.map(({ name }) => name));
    const handlers = elements.flatMap(({ attributes }) =>
      Object.keys(attributes).filter((key) => key.startsWith('on')),
    );
    expect(handlers).toEqual([]);
    expect(page.includes('\u202e')).toBe(false);
    expect(page.includes('<!--')).toBe(false);
  });

  it('carries figure data that read back to what was given', () => {
    const nasty = '</script>\u2028<b>';
    const page = renderHtml(withHostileText(sampleReport, nasty) as ReportDocument);
    const block = /<script type="application\/json">([\s\S]*?)<\/script>/.exec(page)?.[1] ?? '';
    const read = JSON.parse(block) as { layout: { xaxis: { title: { text: string } } } };
    expect(read.layout.xaxis.title.text).toBe(`${nasty}Day`);
  });

  it('refuses an identifier used twice and a link that leads nowhere', () => {
    const inner = { id: 's', heading: 'S', clause: '', blocks: [], sections: [] };
    expect(() => renderHtml(ofOneSection({ sections: [inner] }))).toThrow('"s": found twice');
    const table = {
      kind: 'table' as const,
      id: 't',
      caption: '',
      columns: [{ heading: 'a', unit: '' }],
      rows: [[{ kind: 'text' as const, text: 'x', link: 'nowhere' }]],
      notes: [],
    };
    expect(() => renderHtml(ofOneSection({ blocks: [table] }))).toThrow('link to "nowhere"');
  });

  it('is the same to the byte for the same document', () => {
    expect(renderHtml(structuredClone(sampleReport)) === html).toBe(true);
  });
});
