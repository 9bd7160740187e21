import type { Figure } from '../document.js';
import { anchor } from './anchor.js';
import { escapeHtml, escapeJsonForScript } from './escape.js';
import { renderTableHtml } from './render-table.js';

/** Script text that draws one figure element once plotly is there, and folds its table away only when that worked. */
const drawFigure =
  'function(e,f){if(!window.Plotly||!e)return;' +
  'window.Plotly.newPlot(e.querySelector(".plot"),f.traces,f.layout,{displayModeBar:false})' +
  '.then(function(){e.querySelector("details").open=false;e.dataset.drawn="yes"})}';

/** The one script of a report page: draws every figure from the data block that stands inside it. */
export const drawAllFigures =
  `(function(){var d=${drawFigure};` +
  'document.querySelectorAll("figure[data-plot]").forEach(function(e){' +
  'd(e,JSON.parse(e.querySelector("script[type=\\"application/json\\"]").textContent))})})();';

function plotJson(figure: Figure): string {
  return escapeJsonForScript(JSON.stringify({ traces: figure.traces, layout: figure.layout }));
}

function frame(figure: Figure, inside: string): string {
  return (
    `<figure id="${anchor(figure.id)}" data-plot role="group" aria-label="${escapeHtml(figure.caption)}">` +
    `<div class="plot" aria-hidden="true"></div>${inside}` +
    `<figcaption>${escapeHtml(figure.caption)}</figcaption>` +
    `<details open><summary>Figures drawn, as a table</summary>${renderTableHtml(figure.table, false)}</details></figure>`
  );
}

/** A figure of a report page: its data stand in a block that the page's one script reads. */
export function figureInPage(figure: Figure): string {
  return frame(figure, `<script type="application/json">${plotJson(figure)}</script>`);
}

/**
 * A figure as a fragment that draws itself, for notebooks: at once where `window.Plotly` is there, else when the
 * window event `plotly-ready` comes. Until then, and where scripts are not allowed, its table is shown.
 *
 * @example
 * renderFigureHtml({ kind: 'figure', id: 'f', caption: 'C', traces: [], layout: {}, table: { kind: 'table', id: 'f', caption: 'C', columns: [], rows: [], notes: [] } }).includes('<details open>') // => true
 */
export function renderFigureHtml(figure: Figure): string {
  const script =
    `(function(){var d=${drawFigure};var f=${plotJson(figure)};` +
    `var g=function(){d(document.getElementById("${anchor(figure.id)}"),f)};` +
    'if(window.Plotly)g();else window.addEventListener("plotly-ready",g,{once:true})})();';
  return `${frame(figure, '')}<script>${script}</script>`;
}
