import { readdirSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join, relative, resolve, sep } from 'node:path';
import { expect, it } from 'vitest';

/*
 * Notebooks see the project through its declaration files, read by the older TypeScript inside tslab. What that
 * version cannot read would silently become `any` in a cell, and a wrong call would pass.
 */

interface Diagnostic {
  readonly file?: { readonly fileName: string; getLineAndCharacterOfPosition(at: number): { line: number } };
  readonly start?: number;
  readonly messageText: unknown;
}

/** The little of the compiler's interface that is used: its own types are those of that older version. */
interface Compiler {
  readonly version: string;
  readonly ScriptTarget: { readonly ES2022: number };
  readonly ModuleKind: { readonly CommonJS: number };
  readonly ModuleResolutionKind: { readonly Node10: number };
  createProgram(roots: readonly string[], options: object): unknown;
  getPreEmitDiagnostics(program: unknown): readonly Diagnostic[];
  flattenDiagnosticMessageText(text: unknown, newLine: string): string;
}

const dist = resolve(__dirname, '../dist');
const src = resolve(__dirname, '../src');

/** Of the sources that there are: an earlier build may have left others. */
function declarations(): string[] {
  return readdirSync(src, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts') && !name.endsWith('.d.ts'))
    .map((name) => join(dist, name.replace(/\.ts$/, '.d.ts')));
}

it('every declaration file is readable by the TypeScript inside tslab', () => {
  // tslab's own dependency, found from tslab.
  const compiler = createRequire(require.resolve('tslab'))('@tslab/typescript-for-tslab') as Compiler;
  expect(compiler.version).toMatch(/^5\.0\./);
  const files = declarations();
  expect(files).toContain(join(dist, 'index.d.ts'));
  const program = compiler.createProgram(files, {
    target: compiler.ScriptTarget.ES2022,
    lib: ['lib.es2022.d.ts'],
    module: compiler.ModuleKind.CommonJS,
    moduleResolution: compiler.ModuleResolutionKind.Node10,
    types: ['node'],
    skipLibCheck: false,
    noEmit: true,
  });
  const found = compiler
    .getPreEmitDiagnostics(program)
    // Declarations of packages are their own affair; those of ours alone are held to this.
    .filter(({ file }) => !file || file.fileName.startsWith(dist.split(sep).join('/')))
    .map(({ file, start, messageText }) => {
      const line = file ? file.getLineAndCharacterOfPosition(start ?? 0).line + 1 : 0;
      const text = compiler.flattenDiagnosticMessageText(messageText, ' ');
      return `${file ? relative(dist, file.fileName) : 'options'}:${line} ${text}`;
    });
  expect(found).toEqual([]);
});
