import { spawn } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { MeltbookError } from '../../../src/errors.js';
import { notebookOf } from '../../support/notebook-of.js';
import { printed, runInTests } from '../../support/run-in-tests.js';
import { temporaryFolder } from '../../support/temporary-folder.js';

const root = resolve(__dirname, '../../..');

async function until(held: () => boolean): Promise<void> {
  for (let i = 0; i < 300 && !held(); i++) await delay(100);
  expect(held()).toBe(true);
}

/** A process that has ended and that nobody has asked about yet is not running. */
function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
  } catch {
    return false;
  }
  const status = `/proc/${pid}/status`;
  return !existsSync(status) || !/^State:\s*Z/m.test(readFileSync(status, 'utf8'));
}

describe('the kernel process', () => {
  it('says why it could not be started', async () => {
    const fails = (kernel: [string, ...string[]]) =>
      runInTests(notebookOf('1'), { kernel }).catch((error: unknown) => error as MeltbookError);
    const absent = await fails(['no-such-program']);
    expect(absent).toBeInstanceOf(MeltbookError);
    expect((absent as MeltbookError).message).toMatch(/^the kernel could not be started: [\s\S]*ENOENT/);
    const broken = await fails([
      process.execPath,
      '-e',
      'process.stderr.write("no kernel here"); process.exit(9)',
    ]);
    expect((broken as MeltbookError).message).toBe(
      'the kernel could not be started: it exited (code 9)\nno kernel here',
    );
  });

  it('marks an output as cut where a kernel loses the end of it, and goes on', async () => {
    // The kernel without our launcher drops what is beyond some 500 messages.
    const stock: [string, ...string[]] = [
      process.execPath,
      join(root, 'node_modules/tslab/bin/tslab'),
      'kernel',
      '--config-path',
    ];
    const { ok, notebook } = await runInTests(
      notebookOf("for (let i = 0; i < 3000; i++) console.log('line ' + i);", "'next'"),
      { kernel: stock },
    );
    expect(ok).toBe(true);
    expect(printed(notebook, 1)).not.toContain('line 2999');
    expect(printed(notebook, 1, 'stderr')).toBe('[cut: the kernel never said that this output had ended]\n');
    expect(printed(notebook, 2)).toBe('next\n');
  });

  it('ends when the program that started it is killed, even in a loop without end', async () => {
    const folder = temporaryFolder();
    const file = join(folder, 'pid');
    const cell = `require('fs').writeFileSync(${JSON.stringify(file)}, String(process.pid)); while (true) {}`;
    const runner = `require(${JSON.stringify(join(root, 'dist/notebook/run-notebook.js'))})
      .runNotebook(${JSON.stringify({ source: notebookOf(cell), cwd: __dirname })})`;
    const parent = spawn(process.execPath, ['-e', runner], { stdio: 'ignore' });
    await until(() => existsSync(file) && readFileSync(file, 'utf8') !== '');
    const pid = Number(readFileSync(file, 'utf8'));
    expect(isRunning(pid)).toBe(true);
    parent.kill('SIGKILL');
    await until(() => !isRunning(pid));
  });
});
