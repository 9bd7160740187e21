import { createContext, runInContext } from 'node:vm';
import { describe, expect, it } from 'vitest';
import { linkPlotlyHtml } from '../../../src/report/figures/link-plotly.js';
import { renderFigureHtml } from '../../../src/report/html/render-figure.js';
import { htmlElements } from '../../support/html-elements.js';
import { sampleFigure } from '../../support/sample-report.js';

const figure = { ...sampleFigure, id: 'f</script>', layout: { title: '</script><b>' } };
const scriptOf = (html: string): string => /<script>([\s\S]*)<\/script>$/.exec(html)?.[1] ?? '';

/** The little of a browser that the scripts ask for. */
function page(hasLibrary: boolean) {
  const details = { open: true };
  const drawn: unknown[] = [];
  const waiting: (() => void)[] = [];
  const added: { src?: string; onload?: () => void }[] = [];
  const element = {
    dataset: {} as Record<string, string>,
    querySelector: (selector: string) => (selector === 'details' ? details : 'plot'),
  };
  const library = {
    newPlot: (...given: unknown[]) => {
      drawn.push(given);
      return Promise.resolve();
    },
  };
  const window = {
    Plotly: hasLibrary ? library : undefined,
    addEventListener: (_: string, listener: () => void) => waiting.push(listener),
    dispatchEvent: () => waiting.splice(0).forEach((listener) => void listener()),
  };
  const document = {
    getElementById: () => element,
    createElement: () => ({}),
    head: { appendChild: (node: { src?: string }) => added.push(node) },
  };
  class Event {}
  const context = createContext({ window, document, Event });
  const run = async (html: string) => {
    runInContext(scriptOf(html), context);
    await Promise.resolve();
  };
  return { run, details, drawn, added, element, window, library };
}

describe('a figure that draws itself', () => {
  const html = renderFigureHtml(figure);

  it('is sound HTML with its table open, whatever its texts hold', () => {
    expect(htmlElements(html).filter(({ name }) => name === 'script')).toHaveLength(1);
    expect(html).toContain('<details open>');
  });

  it('draws at once where the library is there, and folds the table away', async () => {
    const { run, details, drawn } = page(true);
    await run(html);
    expect(drawn).toEqual([['plot', figure.traces, figure.layout, { displayModeBar: false }]]);
    expect(details.open).toBe(false);
  });

  it('keeps its table in sight until the library has come', async () => {
    const { run, details, drawn, added, window, library } = page(false);
    await run(html);
    expect([drawn.length, details.open]).toEqual([0, true]);
    await run(linkPlotlyHtml('../lib/plotly.js'));
    expect(added[0]?.src).toBe('../lib/plotly.js');
    window.Plotly = library;
    added[0]?.onload?.();
    await Promise.resolve();
    expect([drawn.length, details.open]).toEqual([1, false]);
  });
});
