import { execFileSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve, sep } from 'node:path';
import { describe, expect, it } from 'vitest';

const root = resolve(__dirname, '..');
const src = join(root, 'src');

/** Layer of each folder: a file imports from its own folder and from lower numbers only. */
const layers: Record<string, number> = {
  errors: 0,
  quantities: 1,
  statistics: 1,
  uncertainty: 2,
  chain: 3,
  validation: 3,
  records: 4,
  studies: 5,
  scenario: 5,
  report: 6,
  coverage: 6,
  notebook: 7,
  cli: 8,
  index: 9,
};

/** The one folder through which each third-party package may enter. */
const doors: Record<string, string[]> = {
  jstat: ['statistics'],
  'simple-statistics': ['statistics'],
  mathjs: ['quantities', 'uncertainty'],
  'plotly.js-dist': ['report/figures'],
  'plotly.js-cartesian-dist-min': ['report/figures'],
  zeromq: ['notebook'],
  tslab: ['notebook'],
  'read-excel-file': ['records'],
  'write-excel-file': ['records'],
};

interface Import {
  from: string;
  specifier: string;
  line: number;
}

function sources(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return sources(path);
    return /\.m?ts$/.test(entry.name) && !entry.name.endsWith('.d.ts') ? [path] : [];
  });
}

function withoutComments(text: string): string {
  return text
    .replace(/\/\*[\s\S]*?\*\//g, (comment) => comment.replace(/[^\n]/g, ' '))
    .replace(/(^|\s)\/\/.*$/gm, '$1');
}

function importsOf(file: string): Import[] {
  const text = withoutComments(readFileSync(file, 'utf8'));
  const found: Import[] = [];
  const pattern =
    /(?:\bfrom\s+|\bimport\s*\(\s*|\brequire(?:\.resolve)?\s*\(\s*|^\s*import\s+)(['"])([^'"\n]+)\1/gm;
  for (const match of text.matchAll(pattern)) {
    found.push({ from: file, specifier: match[2]!, line: text.slice(0, match.index).split('\n').length });
  }
  return found;
}

function area(file: string): string {
  const parts = relative(src, file).split(sep);
  return parts.length === 1 ? parts[0]!.replace(/\.ts$/, '') : parts[0]!;
}

const files = sources(src);
const imports = files.flatMap(importsOf);
const place = (i: Import) => `${relative(root, i.from)}:${i.line} imports ${i.specifier}`;
const target = (i: Import) => resolve(dirname(i.from), i.specifier).replace(/\.js$/, '.ts');

describe('architecture', () => {
  it('knows the layer of every folder', () => {
    expect([...new Set(files.map(area))].filter((name) => !(name in layers))).toEqual([]);
  });

  it('lets a file import from its own folder and from lower layers only', () => {
    const wrong = imports
      .filter((i) => i.specifier.startsWith('.'))
      .filter((i) => area(i.from) !== area(target(i)) && !(layers[area(target(i))]! < layers[area(i.from)]!));
    expect(wrong.map(place)).toEqual([]);
  });

  it('imports files that exist', () => {
    const wrong = imports.filter(
      (i) => i.specifier.startsWith('.') && !i.specifier.endsWith('.json') && !files.includes(target(i)),
    );
    expect(wrong.map(place)).toEqual([]);
  });

  it('keeps every file to 300 lines', () => {
    const lines = (file: string) => readFileSync(file, 'utf8').split('\n').length - 1;
    const long = files.filter((file) => lines(file) > 300);
    expect(long.map((file) => `${relative(root, file)}: ${lines(file)} lines`)).toEqual([]);
  });

  it('has no circle of imports', () => {
    const edges = new Map<string, string[]>();
    for (const i of imports)
      if (i.specifier.startsWith('.')) edges.set(i.from, [...(edges.get(i.from) ?? []), target(i)]);
    const done = new Set<string>();
    const circles: string[] = [];
    const visit = (file: string, path: string[]) => {
      if (path.includes(file))
        circles.push([...path.slice(path.indexOf(file)), file].map((f) => relative(src, f)).join(' -> '));
      if (done.has(file) || path.includes(file)) return;
      for (const next of edges.get(file) ?? []) visit(next, [...path, file]);
      done.add(file);
    };
    for (const file of files) visit(file, []);
    expect(circles).toEqual([]);
  });

  it('lets each third-party package in through its own door', () => {
    const wrong = imports
      .filter((i) => !i.specifier.startsWith('.') && !i.specifier.startsWith('node:'))
      .filter((i) => {
        const name = i.specifier.startsWith('@')
          ? i.specifier.split('/').slice(0, 2).join('/')
          : i.specifier.split('/')[0]!;
        return !(doors[name] ?? []).some((door) => relative(src, i.from).startsWith(door + sep));
      });
    expect(wrong.map(place)).toEqual([]);
  });

  it('touches files, processes and the clock only where the layers allow it', () => {
    const wrong: string[] = [];
    for (const file of files) {
      const layer = layers[area(file)]!;
      const text = withoutComments(readFileSync(file, 'utf8'));
      const refuse = (pattern: RegExp, what: string) => {
        for (const match of text.matchAll(pattern)) {
          wrong.push(`${relative(root, file)}:${text.slice(0, match.index).split('\n').length} ${what}`);
        }
      };
      if (layer < 4)
        refuse(
          /['"](?:node:)?(?:fs|fs\/promises|child_process|net|http|https|os)['"]/g,
          'touches the machine',
        );
      if (layer < 7) refuse(/\bDate\.now\b|\bnew Date\(\s*\)|\bperformance\.now\b/g, 'reads the clock');
      if (layer < 4) refuse(/\bDate\b/g, 'uses dates');
      if (area(file) !== 'cli') refuse(/\bconsole\./g, 'writes to the console');
      refuse(/\bMath\.random\b/g, 'draws without a seed');
      refuse(/^export default\b/gm, 'has a default export');
      refuse(/(?::|<|\bas)\s*any\b/g, 'says any');
      refuse(/\bnew Function\b|\beval\s*\(/g, 'makes code from text');
    }
    expect(wrong).toEqual([]);
  });

  it('keeps the top level to what the layout names', () => {
    const tracked = execFileSync('git', ['ls-files'], { cwd: root, encoding: 'utf8' })
      .split('\n')
      .filter(Boolean);
    const allowed =
      /^(README\.md|DEVELOPERS\.md|package\.json|package-lock\.json|tsconfig\.json|biome\.json|vitest\.config\.mts|notebooks|src|tests|data|reports|LICENSE|\..*)$/;
    expect(
      [...new Set(tracked.map((path) => path.split('/')[0]!))].filter((name) => !allowed.test(name)),
    ).toEqual([]);
  });

  it('uses the compiler that the project pins, not the one tslab brings', () => {
    const version = execFileSync(process.execPath, ['node_modules/typescript/bin/tsc', '--version'], {
      cwd: root,
      encoding: 'utf8',
    });
    const pinned = (
      JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as {
        devDependencies: Record<string, string>;
      }
    ).devDependencies.typescript;
    expect(version.trim()).toBe(`Version ${pinned}`);
  });
});
