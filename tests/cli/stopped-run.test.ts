import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, it } from 'vitest';
import { writeNotebook } from '../../src/notebook/format/write-notebook.js';
import { markdown, notebookOf, parameters } from '../support/notebook-of.js';
import { temporaryFolder } from '../support/temporary-folder.js';

const root = resolve(__dirname, '../..');

it('a run that is stopped at the terminal says that it issued nothing', async () => {
  const folder = temporaryFolder();
  const notebook = join(folder, '99-wait.ipynb');
  const waiting = 'await new Promise((next) => setTimeout(next, 60_000));';
  await writeNotebook(
    notebook,
    notebookOf(markdown('# Wait'), parameters("let studyFolder = '';\nlet outputFolder = '';"), waiting),
  );
  const reports = join(folder, 'reports');
  const study = join(root, 'data/zircon-pigment');
  const run = spawn(
    process.execPath,
    [join(root, 'dist/cli.js'), 'run', notebook, '--study', study, '--reports', reports],
    { stdio: ['ignore', 'ignore', 'pipe'] },
  );
  let said = '';
  let isAsked = false;
  run.stderr.on('data', (text: Buffer) => {
    said += text.toString('utf8');
    // The cell of the given parameters is over: the one that waits is next.
    if (isAsked || !said.includes('cell 3 of 4')) return;
    isAsked = true;
    run.kill('SIGINT');
  });
  const code = await new Promise<number | null>((ended) => run.on('close', ended));
  expect([code, said.trim().split('\n').at(-1)]).toEqual([130, 'stopped: no report issued']);
  expect(existsSync(reports)).toBe(false);
}, 60_000);
