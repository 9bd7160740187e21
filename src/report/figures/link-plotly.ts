import { escapeJsonForScript } from '../html/escape.js';

/**
 * A fragment that loads the drawing library from an address, once however often it stands in a page, and then tells
 * the figures of `renderFigureHtml` by the window event `plotly-ready`. For notebooks, where setting the library
 * inline would swell each file.
 *
 * @param address relative address of the library, as seen from the notebook
 * @example
 * linkPlotlyHtml('../node_modules/plotly.js-dist/plotly.js').includes('plotly-ready') // => true
 */
export function linkPlotlyHtml(address: string): string {
  const source = escapeJsonForScript(JSON.stringify(address));
  return (
    '<script>(function(){if(window.Plotly||window.plotlyAsked)return;window.plotlyAsked=true;' +
    `var s=document.createElement("script");s.src=${source};` +
    's.onload=function(){window.dispatchEvent(new Event("plotly-ready"))};document.head.appendChild(s)})();</script>'
  );
}
