import { createRequire } from 'node:module';
import { join, relative, sep } from 'node:path';
import { InputError } from '../errors.js';
import type { Block, Section } from '../report/document.js';
import { linkPlotlyHtml } from '../report/figures/link-plotly.js';
import { escapeHtml } from '../report/html/escape.js';
import { renderBlockHtml } from '../report/html/render-block.js';
import { renderFigureHtml } from '../report/html/render-figure.js';
import { projectRoot } from './project-root.js';

/** What a notebook can show: a block of a report, a section with all it holds, or a sentence. */
export type Shown = Block | Section | string;

/**
 * Shows parts of a report in the running notebook, each as one output.
 *
 * A figure is drawn where the browser may run scripts; until then, and everywhere else, its table is shown.
 *
 * @throws InputError there is no notebook to show it in
 */
export function show(...items: readonly Shown[]): void {
  // On use: the package of the kernel takes a third of a second to load, and only a kernel has a place to show in.
  const { display } = createRequire(__filename)('tslab') as { display: { html(text: string): void } };
  for (const item of items) {
    const html = shownHtml(item);
    try {
      display.html(html);
    } catch (cause) {
      throw new InputError('show: found no running notebook, expected to be called from a cell', { cause });
    }
  }
}

/**
 * The HTML by which `show` shows an item.
 *
 * @example
 * shownHtml('a < b') // => '<p>a &lt; b</p>'
 */
export function shownHtml(item: Shown): string {
  if (typeof item === 'string') return `<p>${escapeHtml(item)}</p>`;
  if (!('kind' in item)) return sectionHtml(item, 3);
  return item.kind === 'figure'
    ? linkPlotlyHtml(plotlyAddress()) + renderFigureHtml(item)
    : renderBlockHtml(item);
}

function sectionHtml(section: Section, level: number): string {
  const heading = `<h${level}>${escapeHtml(section.heading)}</h${level}>`;
  const below = section.sections.map((inner) => sectionHtml(inner, Math.min(6, level + 1)));
  return [heading, ...section.blocks.map(shownHtml), ...below].join('\n');
}

/** Address of the drawing library as seen from the notebook, which lies in the kernel's folder. */
function plotlyAddress(): string {
  const library = join(projectRoot(), 'node_modules', 'plotly.js-dist', 'plotly.js');
  return relative(process.cwd(), library).split(sep).join('/');
}
