import { execFile } from 'node:child_process';
import { readFileSync, realpathSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { temporaryFolder } from '../support/temporary-folder.js';

const root = resolve(__dirname, '../..');

describe('meltbook begin', () => {
  it('says where to run the check, by a path that holds there, and warns of respirable dust', async () => {
    const elsewhere = realpathSync(temporaryFolder());
    const out = await new Promise<string>((done, failed) => {
      execFile(
        process.execPath,
        [join(root, 'dist/cli.js'), 'begin', 'mine'],
        { cwd: elsewhere },
        (error, text) => (error === null ? done(text) : failed(error)),
      );
    });
    expect(out).toContain(`in the folder of this tool: npx meltbook check ${join(elsewhere, 'mine')}\n`);
    const guide = readFileSync(join(elsewhere, 'mine', 'README.md'), 'utf8');
    expect(guide).toMatch(/Dust of samples .*respirable.*crystalline silica.*local rules decide/);
  });
});
