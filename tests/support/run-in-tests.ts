import type { CodeCell, Notebook, Output } from '../../src/notebook/format/notebook.js';
import { type NotebookRun, type RunOptions, runNotebook } from '../../src/notebook/run-notebook.js';

/** Runs a notebook as the tests do. The kernel is started from dist/: `npm test` builds first. */
export function runInTests(source: Notebook, more: Partial<RunOptions> = {}): Promise<NotebookRun> {
  return runNotebook({ source, cwd: __dirname, timeoutSecondsPerCell: 30, ...more });
}

/** Outputs of a cell, counted from 1. */
export function outputsOf(notebook: Notebook, cell: number): readonly Output[] {
  return (notebook.cells[cell - 1] as CodeCell).outputs;
}

/** What a cell printed. */
export function printed(notebook: Notebook, cell: number, name = 'stdout'): string {
  return outputsOf(notebook, cell)
    .map((output) => (output.output_type === 'stream' && output.name === name ? output.text : ''))
    .join('');
}
