import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join, relative, resolve, sep } from 'node:path';
import { describe, expect, it } from 'vitest';

const root = resolve(__dirname, '..');
const src = join(root, 'src');

interface Example {
  file: string;
  line: number;
  code: string[];
}

function sources(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    return entry.isDirectory() ? sources(path) : /(?<!\.d)\.ts$/.test(entry.name) ? [path] : [];
  });
}

/** The lines of each `@example` up to the next tag or the end of the comment. */
function examplesOf(file: string): Example[] {
  const found: Example[] = [];
  let current: Example | null = null;
  readFileSync(file, 'utf8')
    .split('\n')
    .forEach((text, i) => {
      const comment = text.match(/^\s*\*( ?)(.*)$/);
      if (/^\s*\* @example/.test(text)) {
        current = { file, line: i + 1, code: [] };
        found.push(current);
      } else if (comment === null || /^\s*\*\//.test(text) || /^@/.test(comment[2]!)) {
        current = null;
      } else {
        current?.code.push(comment[2]!);
      }
    });
  return found;
}

/** A number is right when it rounds to the digits shown; anything else must be equal. */
function agrees(actual: unknown, shown: string): boolean {
  const number = Number(shown);
  if (shown !== '' && !Number.isNaN(number) && typeof actual === 'number') {
    if (!Number.isFinite(number)) return actual === number;
    const digits = shown
      .replace(/e.*$/i, '')
      .replace(/^[-+]?0*\.?0*/, '')
      .replace('.', '').length;
    return Number(actual.toPrecision(Math.max(1, Math.min(17, digits)))) === number || actual === number;
  }
  // Text is shown bare or as a literal; anything else as a literal.
  if (typeof actual === 'string' && actual === shown) return true;
  return JSON.stringify(actual) === JSON.stringify(new Function(`return (${shown})`)());
}

const examples = sources(src).flatMap(examplesOf);

/** Everything the sources export, by name: an example may use what stands in other files. Programs start when imported. */
async function allExports(): Promise<Record<string, unknown>> {
  const programs = /(cli|kernel-launcher|parent-watch|worker)\.ts$/;
  const modules = await Promise.all(
    sources(src)
      .filter((file) => !programs.test(file) && !relative(src, file).startsWith(`cli${sep}`))
      .map((file) => import(file) as Promise<Record<string, unknown>>),
  );
  return Object.assign({}, ...modules);
}

describe('documentation examples', () => {
  it('are found', () => {
    expect(examples.length).toBeGreaterThan(5);
  });

  it.each(examples.map((e) => [`${relative(root, e.file)}:${e.line}`, e] as const))(
    '%s gives what it shows',
    async (_, example) => {
      const module: Record<string, unknown> = { ...(await allExports()), ...(await import(example.file)) };
      const checks = example.code.filter((line) => line.includes('// =>'));
      expect(checks.length, 'lines with a figure').toBeGreaterThan(0);
      const body = example.code
        .map((line) => {
          const [code, shown] = line.split('// =>');
          return shown === undefined
            ? line
            : `results.push([(${code!.trim().replace(/;$/, '')}), ${JSON.stringify(shown.trim())}]);`;
        })
        .join('\n');
      const results: [unknown, string][] = [];
      new Function('results', ...Object.keys(module), `{\n${body}\n}`)(results, ...Object.values(module));
      for (const [actual, shown] of results) {
        expect(agrees(actual, shown), `${String(actual)} against ${shown}`).toBe(true);
      }
    },
  );

  it('keep the README to 150 lines and the guide for contributors to 300', () => {
    const lines = (name: string) => readFileSync(join(root, name), 'utf8').split('\n').length;
    expect(lines('README.md')).toBeLessThanOrEqual(150);
    expect(lines('DEVELOPERS.md')).toBeLessThanOrEqual(300);
  });

  it('name only folders and commands that exist', () => {
    const scripts = Object.keys(JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')).scripts);
    for (const name of ['README.md', 'DEVELOPERS.md']) {
      const text = readFileSync(join(root, name), 'utf8');
      const used = [...text.matchAll(/npm run ([a-z:-]+)/g)].map((match) => match[1]!);
      expect(
        used.filter((script) => !scripts.includes(script)),
        name,
      ).toEqual([]);
      const paths = [
        ...text.matchAll(/`((?:src|tests|notebooks|data|reports|\.ci|\.jupyter)\/[\w./-]*)`/g),
      ].map((match) => match[1]!);
      const entries = paths.filter((path) => !/^reports\/.+/.test(path));
      expect(
        entries.filter((path) => !existsSync(join(root, path))),
        name,
      ).toEqual([]);
    }
  });
});
