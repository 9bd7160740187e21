import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../src/errors.js';
import type { Notebook } from '../../src/notebook/format/notebook.js';
import { notebookAsText } from '../../src/notebook/format/notebook-as-text.js';
import { notebookIssues } from '../../src/notebook/format/notebook-issues.js';
import { parseNotebook, readNotebook } from '../../src/notebook/format/read-notebook.js';
import { notebookToText, writeNotebook } from '../../src/notebook/format/write-notebook.js';
import { code, markdown, notebookOf, parameters } from '../support/notebook-of.js';
import { temporaryFolder } from '../support/temporary-folder.js';

const executed = notebookOf(markdown('# Title\n\ntext'), {
  ...code('1\n\n2\n'),
  execution_count: 3,
  outputs: [
    { output_type: 'stream', name: 'stdout', text: 'a\nb' },
    {
      output_type: 'display_data',
      data: { 'text/html': '<b>\n</b>', 'application/json': { text: 'kept\nwhole', b: [1] } },
      metadata: { text: 'also\nkept' },
    },
    { output_type: 'execute_result', execution_count: 3, data: { 'text/plain': '' }, metadata: {} },
    { output_type: 'error', ename: 'Error', evalue: 'a\nb', traceback: ['a\nb'] },
  ],
});

describe('the file of a notebook', () => {
  it('comes back as it was written', async () => {
    const path = join(temporaryFolder(), 'x.ipynb');
    await writeNotebook(path, executed);
    expect(await readNotebook(path)).toEqual(executed);
  });

  it('keeps texts as lines, keys in order, and foreign data whole', () => {
    const file = JSON.parse(notebookToText(executed)) as Notebook;
    expect(file.cells[0]!.source).toEqual(['# Title\n', '\n', 'text']);
    expect(Object.keys(file)).toEqual(['cells', 'metadata', 'nbformat', 'nbformat_minor']);
    expect(file.cells[1]).toMatchObject({
      source: ['1\n', '\n', '2\n'],
      outputs: [
        { text: ['a\n', 'b'] },
        {
          data: { 'text/html': ['<b>\n', '</b>'], 'application/json': { text: 'kept\nwhole' } },
          metadata: { text: 'also\nkept' },
        },
        { data: { 'text/plain': [] } },
        { evalue: 'a\nb', traceback: ['a\nb'] },
      ],
    });
    expect(notebookToText(executed)).toMatch(/^\{\n "cells": \[\n[\s\S]*\n\}\n$/);
  });

  it('is refused with every problem named', async () => {
    const bad = {
      nbformat: 4,
      nbformat_minor: 4,
      metadata: [],
      cells: [
        { cell_type: 'code', id: 'a b', metadata: {}, source: 1, outputs: [], execution_count: -1, extra: 1 },
        { cell_type: 'markdown', id: 'same', metadata: {}, source: ['x'] },
        { cell_type: 'markdown', id: 'same', metadata: null, source: 'x', outputs: [] },
        { cell_type: 'heading', id: 'h', metadata: {}, source: '' },
        {
          cell_type: 'code',
          id: 'o',
          metadata: {},
          source: '',
          outputs: [{ output_type: 'stream' }, 7],
          execution_count: null,
        },
        'cell',
      ],
    };
    expect(notebookIssues(bad)).toEqual([
      'format: found 4.4, expected 4.5 or a later 4.x',
      'metadata: expected an object',
      'cell 1: id: found a b, expected 1 to 64 letters, digits, "-" or "_"',
      'cell 1: source: expected text',
      'cell 1: extra: not a field of code',
      'cell 1: execution_count: expected null or a whole number',
      'cell 3: metadata: expected an object',
      'cell 3: outputs: not a field of markdown',
      'cell 3: the id same is already taken',
      'cell 4: kind: found heading, expected code, markdown or raw',
      'cell 5: stream: without name, text',
      'cell 5: output: expected stream, display_data, execute_result or error',
      'cell 6: expected an object',
    ]);
    const path = join(temporaryFolder(), 'bad.ipynb');
    writeFileSync(path, JSON.stringify(bad));
    await expect(readNotebook(path)).rejects.toThrow(/bad\.ipynb: not a notebook\nformat: found 4\.4/);
    writeFileSync(path, readFileSync(path, 'utf8').slice(1));
    await expect(readNotebook(path)).rejects.toThrow(/bad\.ipynb: not JSON/);
    await expect(readNotebook(join(path, 'absent'))).rejects.toThrow(InputError);
    expect(notebookIssues({ nbformat: 4, nbformat_minor: 5, metadata: {} })).toEqual([
      'cells: expected a list',
    ]);
    expect(() => parseNotebook('[]', 'list')).toThrow('list: not a notebook\nnotebook: found no JSON object');
  });
});

describe('a notebook as text', () => {
  it('prints number, kind and tags before each source', () => {
    const text = notebookAsText(notebookOf(markdown('# Plan'), parameters('let seed = 1;\n'), 'seed'));
    expect(text).toBe(
      '--- cell 1, markdown\n# Plan\n\n--- cell 2, code, parameters\nlet seed = 1;\n\n--- cell 3, code\nseed\n',
    );
  });
});
