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

/** Jupyter's own style sets the rest; where an output may bring no style, tables stay readable without this one. */
const style = `<style>
.meltbook td,.meltbook th{text-align:left}
.meltbook td.mark{background:none}
.meltbook thead .unit{display:block;font-weight:400}
.meltbook tbody th{font-weight:400}
.meltbook .group th{font-weight:700}
.meltbook .number{text-align:right;white-space:nowrap;font-variant-numeric:tabular-nums}
.meltbook .rest{display:inline-block;text-align:left}
.meltbook .verdict svg{margin-right:.4em;vertical-align:-.1em}
.meltbook .bar,.meltbook .bar span{display:block;height:3px;background:#dfe3e8}.meltbook .bar span{background:#1b2430}
.meltbook .source{display:block;font-size:.9em}
.meltbook .caution{border-left:6px double;padding-left:.9em}
.meltbook .facts div{display:flex;gap:1em}.meltbook .facts dt{flex:0 0 22em}
.meltbook summary{display:list-item;cursor:pointer}
</style>`;

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
      display.html(typeof item === 'string' ? html : `<div class="meltbook">${style}${html}</div>`);
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
