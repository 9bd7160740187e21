import { cpSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { audit } from '../../src/cli/audit.js';
import { check } from '../../src/cli/check.js';
import { temporaryFolder } from '../support/temporary-folder.js';

const data = resolve(__dirname, '../../data');

/** A copy of the demonstration study, changed. */
function changed(edit: (folder: string) => void): string {
  const folder = join(temporaryFolder(), 'study');
  cpSync(join(data, 'zircon-pigment'), folder, { recursive: true });
  edit(folder);
  return folder;
}

function replaceIn(file: string, from: string, to: string): void {
  const text = readFileSync(file, 'utf8');
  expect(text).toContain(from);
  writeFileSync(file, text.replace(from, to));
}

async function linesOf(command: typeof check, ...args: string[]): Promise<string[]> {
  const lines: string[] = [];
  await command.run(args, { out: (line: string) => lines.push(line), err: () => undefined });
  return lines;
}

describe('what a check says', () => {
  it('says of a table without one of its columns that its rows were not read, not that it is empty', async () => {
    const folder = changed((f) => replaceIn(join(f, 'calibration.csv'), 'analyte', 'element'));
    const lines = await linesOf(check, folder);
    expect(lines).toContain('calibration.csv: rows not read, see below');
    expect(lines.filter((line) => line.startsWith('calibration has no rows'))).toEqual([]);
    expect(lines.at(-2)).toContain('run the check again');
  });

  it('gives line and column of a fault in the form of a JSON file, and names a decimal comma', async () => {
    const folder = changed((f) => replaceIn(join(f, 'study.json'), '361.383', '361,383'));
    const found = (await linesOf(check, folder)).find((line) => line.startsWith('study.json: found'))!;
    const text = readFileSync(join(folder, 'study.json'), 'utf8');
    const line = text.slice(0, text.indexOf('361,383')).split('\n').length;
    expect(found).toMatch(new RegExp(`at line ${line}, column \\d+; a number takes a decimal point`));
  });

  it('puts the problems last and says nothing of what costs nothing', async () => {
    const folder = changed((f) => {
      replaceIn(join(f, 'moisture.csv'), 'ZP-1', 'ZP-77');
      const [heading] = readFileSync(join(f, 'exclusions.csv'), 'utf8').split('\n');
      writeFileSync(join(f, 'exclusions.csv'), `${heading}\n`);
    });
    const lines = await linesOf(check, folder);
    expect(lines.at(-1)).toBe('2 problem(s) found.');
    expect(lines.slice(-3, -1).join()).toContain('found "ZP-77"');
    expect(lines.filter((line) => line.includes('nothing'))).toEqual([]);
  });
});

describe('an audit of the wrong folder', () => {
  it('is refused where there is none, and finds no evidence where nothing was issued', async () => {
    const folder = temporaryFolder();
    await expect(linesOf(audit, '--reports', join(folder, 'nosuch'))).rejects.toThrow(
      /found no folder .*nosuch/,
    );
    mkdirSync(join(folder, 'empty'));
    const [line] = await linesOf(audit, '--reports', join(folder, 'empty'));
    expect(line).toMatch(/^Nothing has been issued in .*empty/);
  });
});
