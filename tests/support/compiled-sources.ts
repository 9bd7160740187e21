import { execFileSync } from 'node:child_process';
import { mkdtempSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';

const root = resolve(__dirname, '../..');

/**
 * Compiles the sources as they are now into a new folder, for tests that need a process of their own.
 * The caller removes the folder above the one returned.
 */
export function compiledSources(): string {
  const folder = mkdtempSync(join(tmpdir(), 'meltbook-compiled-'));
  const compiler = join(root, 'node_modules/typescript/bin/tsc');
  const target = join(folder, 'dist');
  execFileSync(process.execPath, [
    compiler,
    '-p',
    join(root, 'src'),
    '--outDir',
    target,
    '--declaration',
    'false',
  ]);
  symlinkSync(join(root, 'node_modules'), join(folder, 'node_modules'));
  return target;
}
