import { createHash } from 'node:crypto';
import type { Block, ReportDocument, Section } from './document.js';
import { plotlyBundle } from './figures/plotly-bundle.js';
import { escapeHtml } from './html/escape.js';
import { requireSoundIdentifiers } from './html/identifiers.js';
import { issueMark } from './html/issue-mark.js';
import { pageStyle, runningHeads } from './html/page-style.js';
import { factsHtml } from './html/render-block.js';
import { drawAllFigures } from './html/render-figure.js';
import { contentsHtml, renderSectionHtml } from './html/render-section.js';

/** `figures: 'tables only'` leaves the drawing library out: every figure is then its table. */
export interface HtmlOptions {
  readonly figures?: 'drawn' | 'tables only';
}

function hasFigure(section: Section): boolean {
  const isFigure = (block: Block): boolean => block.kind === 'figure';
  return section.blocks.some(isFigure) || section.sections.some(hasFigure);
}

function hashSource(script: string): string {
  return `'sha256-${createHash('sha256').update(script, 'utf8').digest('base64')}'`;
}

/** Only the scripts set here may run, and nothing may be fetched: the page cannot call out or run what a record holds. */
function policy(scripts: readonly string[]): string {
  const allowed = scripts.length === 0 ? "'none'" : scripts.map(hashSource).join(' ');
  return `default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'; script-src ${allowed}`;
}

function headHtml(document: ReportDocument, scripts: readonly string[]): string {
  return (
    '<meta charset="utf-8">\n' +
    `<meta http-equiv="Content-Security-Policy" content="${policy(scripts)}">\n` +
    '<meta name="viewport" content="width=device-width, initial-scale=1">\n' +
    `<title>${escapeHtml(document.title)}</title>\n` +
    `<style>${pageStyle}${runningHeads(document.banner, document.title)}</style>`
  );
}

function titleHtml(document: ReportDocument): string {
  const banner = document.banner === '' ? '' : `<p class="banner">${escapeHtml(document.banner)}</p>\n`;
  const subtitle =
    document.subtitle === '' ? '' : `<p class="subtitle">${escapeHtml(document.subtitle)}</p>\n`;
  return `<header>${banner}<h1>${escapeHtml(document.title)}</h1>\n${subtitle}${issueMark}\n${factsHtml(document.facts)}</header>`;
}

/**
 * A report as one self-contained HTML page: readable on a screen, in grey, by a screen reader, and on A4 paper.
 * It says at its head and foot that it is a draft: `withIssueNumber` puts the number there. Text from records is escaped; the page fetches nothing and runs no script but its own.
 *
 * @param document the report
 * @param options whether figures are drawn
 * @returns the whole page
 * @throws InputError an identifier used twice, a link that leads nowhere, a number that is not a number
 * @example
 * renderHtml({ title: 'A report', subtitle: '', banner: '', facts: [], sections: [], data: null }).startsWith('<!DOCTYPE html>') // => true
 */
export function renderHtml(document: ReportDocument, options: HtmlOptions = {}): string {
  requireSoundIdentifiers(document);
  const drawn = options.figures !== 'tables only' && document.sections.some(hasFigure);
  const scripts = drawn ? [plotlyBundle(), drawAllFigures] : [];
  const sections = document.sections.map((section, index) => renderSectionHtml(section, `${index + 1}`));
  return (
    `<!DOCTYPE html>\n<html lang="en">\n<head>\n${headHtml(document, scripts)}\n</head>\n<body>\n` +
    `<a class="skip" href="#report">To the report</a>\n` +
    `${titleHtml(document)}\n${contentsHtml(document.sections)}\n` +
    `<main id="report">\n${sections.join('\n')}\n</main>\n` +
    `${scripts.map((script) => `<script>${script}</script>`).join('\n')}\n</body>\n</html>\n`
  );
}
