import { chmod, mkdtemp, readdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { findChromium, printPdf } from '../../src/notebook/print-pdf.js';

let folder: string;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'meltbook-browser-'));
});
afterAll(() => rm(folder, { recursive: true }));

/** A stand-in for the browser: a script that is told what to do with the page and the name of the PDF. */
async function browserThat(body: string): Promise<string> {
  const path = join(await mkdtemp(join(folder, 'bin-')), 'chromium');
  const find = `for a in "$@"; do case $a in --print-to-pdf=*) out=\${a#*=};; file://*) page=\${a#file://};; esac; done`;
  await writeFile(path, `#!/bin/sh\n${find}\n${body}\n`);
  await chmod(path, 0o755);
  return path;
}

describe('printing to PDF', () => {
  it('hands the page to the browser and gives back the bytes it wrote', async () => {
    const browser = await browserThat('{ printf "%%PDF "; cat "$page"; } > "$out"');
    const bytes = await printPdf('<p>a report</p>', { browser });
    expect(Buffer.from(bytes).toString()).toBe('%PDF <p>a report</p>');
  });

  it('says what the browser said when it fails, and leaves no files', async () => {
    const before = (await readdir(tmpdir())).filter((name) => name.startsWith('meltbook-pdf-'));
    const browser = await browserThat('echo "no display" >&2; exit 3');
    await expect(printPdf('', { browser })).rejects.toThrow(/code 3\nno display/);
    await expect(printPdf('', { browser: join(folder, 'none') })).rejects.toThrow('cannot be started');
    const after = (await readdir(tmpdir())).filter((name) => name.startsWith('meltbook-pdf-'));
    expect(after.filter((name) => !before.includes(name))).toEqual([]);
  });

  it('ends a browser that takes too long', async () => {
    const browser = await browserThat('sleep 30');
    await expect(printPdf('', { browser, timeoutMs: 200 })).rejects.toThrow('no PDF after 0.2 s');
  });

  it('finds an installed browser by its name, and says so where there is none', async () => {
    const browser = await browserThat('');
    expect(await findChromium(`/nowhere:${join(browser, '..')}`)).toBe(browser);
    expect(await findChromium('/nowhere')).toBeNull();
  });
});
