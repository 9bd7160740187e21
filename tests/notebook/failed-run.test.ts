import { describe, expect, it } from 'vitest';
import type { CodeCell } from '../../src/notebook/format/notebook.js';
import { notebookIssues } from '../../src/notebook/format/notebook-issues.js';
import { markdown, notebookOf, parameters } from '../support/notebook-of.js';
import { outputsOf, printed, runInTests } from '../support/run-in-tests.js';

const title = markdown('# Show what goes wrong');

describe('a failing notebook names cell, source and reason, and keeps what was there', () => {
  it('a type error', async () => {
    const { ok, failure, notebook } = await runInTests(
      notebookOf(title, 'let mass = 1; mass', "mass = '1 g';", '3'),
    );
    expect(ok).toBe(false);
    expect(failure).toEqual({
      cell: 3,
      source: "mass = '1 g';",
      message: "TypeScript: 1:1 - Type 'string' is not assignable to type 'number'.",
    });
    expect(printed(notebook, 2)).toBe('1\n');
    expect(outputsOf(notebook, 3)).toMatchObject([{ output_type: 'error', ename: 'TypeScript' }]);
    expect((notebook.cells[3] as CodeCell).execution_count).toBeNull();
  });

  it('a parameter of the wrong type', async () => {
    const source = notebookOf(title, parameters('let seed = 1;'), 'seed');
    const { failure, notebook } = await runInTests(source, { parameters: { seed: 'one' } });
    expect(failure).toEqual({
      cell: 3,
      source: 'seed = "one";\nvoid 0;',
      message: "TypeScript: 1:1 - Type 'string' is not assignable to type 'number'.",
    });
    expect(notebookIssues(notebook)).toEqual([]);
  });

  it('an unknown parameter, before anything runs', async () => {
    const source = notebookOf(title, parameters('let seed = 1;'), 'seed');
    await expect(runInTests(source, { parameters: { sed: 2 } })).rejects.toThrow(
      'no parameter sed: cell 2 declares seed\nlet seed = 1;',
    );
  });

  it('a throw, with the lines of the cell and without those of the kernel', async () => {
    const cell = "console.log('before');\nthrow new RangeError('out of range');";
    const { failure, notebook } = await runInTests(notebookOf(cell, '2'));
    expect(failure).toEqual({ cell: 1, source: cell, message: 'RangeError: out of range' });
    expect(outputsOf(notebook, 1)).toMatchObject([
      { output_type: 'stream', text: 'before\n' },
      { output_type: 'error', ename: 'RangeError', evalue: 'out of range' },
    ]);
    expect(JSON.stringify(notebook)).not.toContain('node_modules');
    expect(printed(notebook, 2)).toBe('');
  });

  it('a loop without end', async () => {
    const cell = "console.log('before'); while (true) {}";
    const { failure, notebook } = await runInTests(notebookOf(cell), { timeoutSecondsPerCell: 2 });
    expect(failure).toEqual({ cell: 1, source: cell, message: 'the cell did not end within 2 s' });
    expect(printed(notebook, 1)).toBe('before\n');
    expect(outputsOf(notebook, 1).at(-1)).toMatchObject({ output_type: 'error', ename: 'Timeout' });
  });

  it('a loop without end that no interrupt reaches', async () => {
    const cell = 'await new Promise((next) => setTimeout(next, 1)); while (true) {}';
    const { failure } = await runInTests(notebookOf(cell), { timeoutSecondsPerCell: 2 });
    expect(failure).toEqual({ cell: 1, source: cell, message: 'the cell did not end within 2 s' });
  });

  it('process.exit', async () => {
    const cell = "console.log('before'); process.exit(3);";
    const { failure, notebook } = await runInTests(notebookOf('1', cell));
    expect(failure).toEqual({ cell: 2, source: cell, message: 'kernel exited (code 3)' });
    expect(printed(notebook, 2)).toBe('before\n');
    expect(outputsOf(notebook, 2).at(-1)).toMatchObject({ output_type: 'error', ename: 'KernelExit' });
  });

  it('process.exit(0), which is not the end of the notebook either', async () => {
    const { failure } = await runInTests(notebookOf('process.exit(0);', '2'));
    expect(failure).toMatchObject({ cell: 1, message: 'kernel exited (code 0)' });
  });

  it('a signal from outside', async () => {
    const cell = "process.kill(process.pid, 'SIGSEGV'); await new Promise((next) => setTimeout(next, 5000));";
    const { failure } = await runInTests(notebookOf(cell));
    expect(failure).toEqual({ cell: 1, source: cell, message: 'kernel exited (signal SIGSEGV)' });
  });

  it('a full heap, with the last words of the process', async () => {
    const cell = 'const held: number[][] = [];\nfor (;;) held.push(new Array(100_000).fill(1.5));';
    const { failure } = await runInTests(notebookOf(cell), { nodeOptions: ['--max-old-space-size=200'] });
    expect(failure).toMatchObject({ cell: 1, source: cell });
    expect(failure?.message).toMatch(/^kernel exited \(signal SIGABRT\)[\s\S]*heap out of memory$/);
  });

  it('a rejection that nobody handles', async () => {
    const cell = "Promise.reject(new Error('nobody listens')); void 0;";
    const { failure, notebook } = await runInTests(notebookOf(cell, '2'));
    expect(failure).toEqual({ cell: 1, source: cell, message: 'UnhandledPromiseRejection: nobody listens' });
    expect((notebook.cells[1] as CodeCell).execution_count).toBeNull();
  });

  it('a rejection that nobody handles, after the reply of the last cell', async () => {
    const cell = "setTimeout(() => Promise.reject(new Error('too late')), 400); void 0;";
    const { failure, notebook } = await runInTests(notebookOf('1', cell));
    expect(failure).toEqual({ cell: 2, source: cell, message: 'UnhandledPromiseRejection: too late' });
    expect(outputsOf(notebook, 2)).toMatchObject([{ output_type: 'error', evalue: 'too late' }]);
  });

  it('a throw in a timer, while a later cell runs', async () => {
    const later = 'await new Promise((next) => setTimeout(next, 800)); void 0;';
    const { failure } = await runInTests(
      notebookOf("setTimeout(() => { throw new Error('in a timer'); }, 200); void 0;", later, '3'),
    );
    expect(failure).toEqual({ cell: 2, source: later, message: 'UncaughtException: in a timer' });
  });
});
