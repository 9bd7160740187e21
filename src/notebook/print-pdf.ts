import { spawn } from 'node:child_process';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { MeltbookError } from '../errors.js';
import { findProgram } from './find-program.js';

/** Names under which Debian and others install the browser. */
const names = ['chromium', 'chromium-browser', 'google-chrome'];

/**
 * Path of an installed Chromium, `null` where there is none.
 *
 * @param searchPath folders to look in, as in the environment variable PATH
 */
export function findChromium(searchPath: string = process.env.PATH ?? ''): Promise<string | null> {
  return findProgram(names, searchPath);
}

/** Own profile, no network services of the browser's own. Root has no sandbox to run in. */
function argumentsFor(folder: string): string[] {
  return [
    '--headless',
    '--disable-gpu',
    '--disable-quic',
    '--no-first-run',
    '--disable-background-networking',
    '--disable-component-update',
    '--disable-sync',
    ...(process.getuid?.() === 0 ? ['--no-sandbox'] : []),
    `--user-data-dir=${join(folder, 'profile')}`,
    '--no-pdf-header-footer',
    `--print-to-pdf=${join(folder, 'report.pdf')}`,
    pathToFileURL(join(folder, 'report.html')).href,
  ];
}

function run(browser: string, given: readonly string[], timeoutMs: number): Promise<void> {
  return new Promise((resolve, reject) => {
    // A group of its own, so that the browser's helpers end with it.
    const child = spawn(browser, given, { stdio: ['ignore', 'ignore', 'pipe'], detached: true });
    let said = '';
    const end = (): void => {
      if (child.pid !== undefined) process.kill(-child.pid, 'SIGKILL');
    };
    const timer = setTimeout(() => {
      reject(new MeltbookError(`${browser}: no PDF after ${timeoutMs / 1000} s`, 4));
      end();
    }, timeoutMs);
    child.stderr.on('data', (chunk: Buffer) => {
      said = (said + chunk.toString()).slice(-2000);
    });
    child.on('error', (cause) => {
      clearTimeout(timer);
      reject(new MeltbookError(`${browser}: cannot be started`, 4, { cause }));
    });
    child.on('close', (code) => {
      clearTimeout(timer);
      if (code === 0) resolve();
      else reject(new MeltbookError(`${browser}: ended with code ${code}\n${said}`, 4));
    });
  });
}

/**
 * A report page printed to PDF by an installed Chromium, on A4 with the heads and feet the page asks for.
 *
 * @param html the whole page, as `renderHtml` gives it
 * @param options the browser (from `findChromium`) and how long to wait, in milliseconds
 * @returns bytes of the PDF; they hold the time of printing, so two printings differ
 * @throws MeltbookError the browser cannot be started, fails, or takes too long
 */
export async function printPdf(
  html: string,
  { browser, timeoutMs = 120_000 }: { readonly browser: string; readonly timeoutMs?: number },
): Promise<Uint8Array> {
  const folder = await mkdtemp(join(tmpdir(), 'meltbook-pdf-'));
  try {
    await writeFile(join(folder, 'report.html'), html);
    await run(browser, argumentsFor(folder), timeoutMs);
    return await readFile(join(folder, 'report.pdf'));
  } finally {
    await rm(folder, { recursive: true, force: true, maxRetries: 5 });
  }
}
