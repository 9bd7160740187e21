import { chmodSync, existsSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { MeltbookError } from '../../src/errors.js';
import { startJupyter } from '../../src/notebook/start-jupyter.js';
import { temporaryFolder } from '../support/temporary-folder.js';

describe('the start of Jupyter', () => {
  it('names the way to get it, with an exit code of its own, where it is not installed', async () => {
    const root = temporaryFolder();
    const refusal = await startJupyter([], { PATH: root }, root).catch(
      (error: unknown) => error as MeltbookError,
    );
    expect(refusal).toMatchObject({ exitCode: 6 });
    expect((refusal as MeltbookError).message).toMatch(
      /^Jupyter is not installed\.[\s\S]*apt install jupyter-notebook/,
    );
    expect(existsSync(join(root, '.jupyter'))).toBe(false);
  });

  it('keeps it on this machine and inside the project, and hands on arguments and exit code', async () => {
    const root = temporaryFolder();
    const program = join(root, 'jupyter-notebook');
    writeFileSync(program, '#!/bin/sh\n{ pwd; echo "$@"; env; } > seen\nexit 7\n');
    chmodSync(program, 0o755);
    const env = { PATH: `${root}:/usr/bin:/bin` };
    expect(await startJupyter(['--no-browser'], env, root)).toBe(7);
    const [folder, args, ...variables] = readFileSync(join(root, 'seen'), 'utf8').split('\n');
    expect(folder).toBe(root);
    expect(args?.split(' ')).toEqual(expect.arrayContaining(['--ip=127.0.0.1', '--no-browser']));
    for (const [name, inside] of [
      ['JUPYTER_PATH', ''],
      ['JUPYTER_CONFIG_DIR', '/config'],
      ['JUPYTER_DATA_DIR', '/data'],
      ['JUPYTER_RUNTIME_DIR', '/runtime'],
    ]) {
      expect(variables).toContain(`${name}=${root}/.jupyter${inside}`);
    }
    expect(statSync(join(root, '.jupyter/runtime')).mode & 0o077).toBe(0);
  });
});

describe('the kernel specification', () => {
  it('names the launcher that the build writes', () => {
    const folder = resolve(__dirname, '../../.jupyter/kernels/tslab');
    const { argv } = JSON.parse(readFileSync(join(folder, 'kernel.json'), 'utf8')) as { argv: string[] };
    expect(existsSync(argv[1]!.replace('{resource_dir}', folder))).toBe(true);
  });
});
