import { readdirSync } from 'node:fs';
import { describe, expect, it, onTestFinished, vi } from 'vitest';
import type { CodeCell } from '../../src/notebook/format/notebook.js';
import { notebookIssues } from '../../src/notebook/format/notebook-issues.js';
import type { CellProgress } from '../../src/notebook/run-notebook.js';
import { markdown, notebookOf, parameters } from '../support/notebook-of.js';
import { outputsOf, printed, runInTests } from '../support/run-in-tests.js';
import { temporaryFolder } from '../support/temporary-folder.js';

const title = markdown('# Show that it runs');

describe('a notebook that runs to its end', () => {
  const source = notebookOf(
    title,
    parameters("let seed = 1; // start of the stream\nlet tail: 'one' | 'two' = 'two';"),
    "import { display, newDisplay } from 'tslab';\nimport { InputError } from 'meltbook';",
    'console.log(seed, tail, InputError.name);',
    "const d = newDisplay(); d.html('<b>first</b>'); console.log('between'); d.html('<b>last</b>');",
    'process.env.TZ + new Date(0).getHours()',
  );

  it('takes parameters, imports the project by its name, keeps every kind of output', async () => {
    const news: string[] = [];
    const onCell = ({ cell, of, state }: CellProgress) => news.push(`${cell}/${of} ${state}`);
    const { ok, failure, notebook } = await runInTests(source, {
      parameters: { seed: 42, tail: 'one' },
      onCell,
    });
    expect(failure).toBeUndefined();
    expect(ok).toBe(true);
    expect(notebookIssues(notebook)).toEqual([]);
    expect((notebook.cells[2] as CodeCell).source).toBe('seed = 42;\ntail = "one";\nvoid 0;');
    expect(printed(notebook, 5)).toBe('42 one InputError\n');
    expect(outputsOf(notebook, 6)).toEqual([
      { output_type: 'display_data', data: { 'text/html': '<b>last</b>' }, metadata: {} },
      { output_type: 'stream', name: 'stdout', text: 'between\n' },
    ]);
    expect(printed(notebook, 7)).toBe('UTC0\n');
    expect(notebook.cells.map((cell) => (cell as CodeCell).execution_count)).toEqual([
      undefined,
      1,
      2,
      3,
      4,
      5,
      6,
    ]);
    expect(news.slice(0, 3)).toEqual(['2/7 running', '2/7 done', '3/7 running']);
    expect(news.at(-1)).toBe('7/7 done');
  });

  it('keeps ten thousand printed lines and three thousand displays, each in its order', async () => {
    const { ok, notebook } = await runInTests(
      notebookOf(
        "for (let i = 0; i < 10_000; i++) console.log('line ' + i);",
        "import { display } from 'tslab';\nfor (let i = 0; i < 3000; i++) display.text('display ' + i);",
      ),
    );
    expect(ok).toBe(true);
    const lines = Array.from({ length: 10_000 }, (_, i) => `line ${i}\n`);
    expect(printed(notebook, 1)).toBe(lines.join(''));
    const shown = outputsOf(notebook, 2).map((output) => 'data' in output && output.data['text/plain']);
    expect(shown).toEqual(Array.from({ length: 3000 }, (_, i) => `display ${i}`));
  });

  it('hears what is printed after the last cell, and ends what does not end by itself', async () => {
    const patient = await runInTests(notebookOf("setTimeout(() => console.log('late'), 400); void 0;"));
    expect([patient.ok, printed(patient.notebook, 1)]).toEqual([true, 'late\n']);
    const endless = await runInTests(notebookOf('setInterval(() => undefined, 50); void 0;'), {
      settleSeconds: 0.5,
    });
    expect(endless.ok).toBe(true);
    expect(printed(endless.notebook, 1, 'stderr')).toBe(
      '[work left running was ended after the last cell]\n',
    );
  });

  it('leaves nothing in the folder for temporary files', async () => {
    const folder = temporaryFolder();
    vi.stubEnv('TMPDIR', folder);
    onTestFinished(() => void vi.unstubAllEnvs());
    await runInTests(notebookOf('1'));
    expect(readdirSync(folder)).toEqual([]);
  });
});
