import { existsSync, readdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Notebook } from '../src/notebook/format/notebook.js';
import { readNotebook } from '../src/notebook/format/read-notebook.js';
import { code, markdown, notebookOf, parameters } from './support/notebook-of.js';
import { brokenNotebookRules } from './support/notebook-rules.js';

const folder = resolve(__dirname, '../notebooks');
const names = existsSync(folder) ? readdirSync(folder).filter((name) => name.endsWith('.ipynb')) : [];

describe('the notebooks', () => {
  it('are named by two digits, a verb and its object', () => {
    expect(names.filter((name) => !/^\d\d(-[a-z0-9]+)+\.ipynb$/.test(name))).toEqual([]);
  });

  it.each(names)('%s is a thin source without outputs', async (name) => {
    expect(brokenNotebookRules(await readNotebook(join(folder, name)))).toEqual([]);
  });
});

describe('the rules for notebooks', () => {
  const title = markdown('# Show the rules');
  const given = parameters('let seed = 1;');
  const good = notebookOf(title, given, "import { show } from 'meltbook';", "show('for a while'); // class");

  it('pass a good notebook', () => {
    expect(brokenNotebookRules(good)).toEqual([]);
  });

  it.each<[string, Notebook, string[]]>([
    ['another kernel', { ...good, metadata: {} }, ['kernel: not tslab']],
    ['stray metadata', { ...good, metadata: { ...good.metadata, toc: {} } }, ['metadata: toc']],
    [
      'stray metadata of a cell',
      notebookOf(title, given, code('1', { scrolled: true })),
      ['cell 3: metadata'],
    ],
    ['no title', notebookOf(given), ['no title']],
    ['no parameters', notebookOf(title), ['0 cells of parameters']],
    ['two cells of parameters', notebookOf(title, given, given), ['2 cells of parameters']],
    [
      'a parameter that is computed',
      notebookOf(title, parameters('let seed = 1 + 1;')),
      ['parameters, line 1: found "let seed = 1 + 1;", expected let name = literal;'],
    ],
    ['a loop', notebookOf(title, given, 'for (const x of []) x;'), ['cell 3: the keyword for']],
    ['a function', notebookOf(title, given, '1;\nfunction f() {}'), ['cell 3: the keyword function']],
    ['a class', notebookOf(title, given, 'class A {}'), ['cell 3: the keyword class']],
    ['another loop', notebookOf(title, given, 'while (false) {}'), ['cell 3: the keyword while']],
    ['a foreign import', notebookOf(title, given, "import fs from 'fs';"), ['cell 3: imports fs']],
    ['a foreign require', notebookOf(title, given, "require('fs')"), ['cell 3: imports require(']],
    ['nine lines', notebookOf(title, given, '1;\n'.repeat(9)), ['cell 3: 9 lines']],
    [
      'an output count',
      notebookOf(title, given, { ...code('1'), execution_count: 1 }),
      ['cell 3: has an execution count'],
    ],
    [
      'an output',
      notebookOf(title, given, {
        ...code('1'),
        outputs: [{ output_type: 'stream', name: 'stdout', text: '1' }],
      }),
      ['cell 3: has outputs'],
    ],
    ['31 cells', notebookOf(title, given, ...Array<string>(29).fill('')), ['31 cells']],
    [
      '121 lines',
      notebookOf(title, given, ...Array<string>(15).fill('1;\n'.repeat(8))),
      ['121 lines of code'],
    ],
  ])('refuse %s', (_, notebook, rules) => {
    expect(brokenNotebookRules(notebook)).toEqual(rules);
  });
});
