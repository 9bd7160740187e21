import { describe, expect, it } from 'vitest';
import { show, shownHtml } from '../../src/notebook/display.js';
import { evidenceCopy } from '../../src/notebook/format/evidence-copy.js';
import { htmlElements } from '../support/html-elements.js';
import { code, notebookOf } from '../support/notebook-of.js';
import { outputsOf, printed, runInTests } from '../support/run-in-tests.js';
import { sampleFigure } from '../support/sample-report.js';

const section = {
  id: 's',
  heading: 'Trueness & bias',
  clause: '',
  blocks: [{ kind: 'paragraph' as const, text: 'What to look for.' }, sampleFigure],
  sections: [{ id: 't', heading: 'Below', clause: '', blocks: [sampleFigure.table], sections: [] }],
};

describe('parts of a report in a notebook', () => {
  it('are HTML of their own: sentence, table, figure, section', () => {
    expect(shownHtml('a < b')).toBe('<p>a &lt; b</p>');
    expect(shownHtml(sampleFigure.table)).toMatch(/^<div class="table"/);
    const whole = shownHtml(section);
    expect(whole).toMatch(/^<h3>Trueness &amp; bias<\/h3>\n<p>What to look for\.<\/p>/);
    expect(whole).toContain('<h4>Below</h4>');
    expect(htmlElements(whole).filter(({ name }) => name === 'figure')).toHaveLength(1);
  });

  it('draw a figure with the library that lies in the project, over a table that needs no script', () => {
    const html = shownHtml(sampleFigure);
    expect(html).toContain('node_modules/plotly.js-dist/plotly.js');
    expect(html.replace(/<script>[\s\S]*?<\/script>/g, '')).toContain('<details open>');
  });

  it('are refused outside a notebook', () => {
    expect(() => show('text')).toThrow('show: found no running notebook, expected to be called from a cell');
  });

  it('appear in a running notebook, and stand alone in its copy for evidence', async () => {
    const figure = JSON.stringify(sampleFigure);
    const { ok, notebook } = await runInTests(
      notebookOf("import { show } from 'meltbook';", `show('Look at the slope.', ${figure});`),
    );
    expect([ok, printed(notebook, 2, 'stderr')]).toEqual([true, '']);
    const html = outputsOf(notebook, 2).map((output) => String('data' in output && output.data['text/html']));
    expect(html).toHaveLength(2);
    expect(html[0]).toBe('<p>Look at the slope.</p>');
    expect(html[1]).toContain('"../../node_modules/plotly.js-dist/plotly.js"');
    const copy = JSON.stringify(evidenceCopy(notebook));
    expect(copy).not.toMatch(/<script|node_modules/);
    expect(copy).toContain('<details open>');
  });
});

describe('the copy for evidence', () => {
  it('loses scripts and links into installed packages, and nothing else', () => {
    const html =
      '<p><a href="x.html">x</a></p><SCRIPT src="a">1</SCRIPT ><img src="../node_modules/a.svg" alt="a">';
    const given = notebookOf({
      ...code('1'),
      outputs: [
        { output_type: 'display_data', data: { 'text/html': html }, metadata: {} },
        { output_type: 'display_data', data: { 'text/plain': '<script></script>' }, metadata: {} },
        { output_type: 'stream', name: 'stdout', text: '<script></script>' },
      ],
    });
    expect(outputsOf(evidenceCopy(given), 1)).toEqual([
      {
        output_type: 'display_data',
        data: { 'text/html': '<p><a href="x.html">x</a></p><img alt="a">' },
        metadata: {},
      },
      ...outputsOf(given, 1).slice(1),
    ]);
  });
});
