import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { injectParameters, parameterFromText } from '../../../src/notebook/format/inject-parameters.js';
import { tagsOf } from '../../../src/notebook/format/notebook.js';
import { declarationsIn, parametersOf } from '../../../src/notebook/format/parameter-declarations.js';
import { markdown, notebookOf, parameters } from '../../support/notebook-of.js';

const source = `// Where the records lie.
let study: string = "zircon's \\u00e9 \\n"; let seed = -1.5e-3;
let tail: 'one;' | 'two=' = 'one;'; /* let hidden = 1; */
let levels: number[] = [1, .5, 2.,];   let nested = [[true, null], []];
let empty = '';`;
const notebook = notebookOf(markdown('# T'), parameters(source), 'seed');

describe('the parameters a notebook declares', () => {
  it('are read with type and value', () => {
    expect(parametersOf(notebook)).toEqual([
      { name: 'study', type: 'string', value: "zircon's é \n" },
      { name: 'seed', type: '', value: -0.0015 },
      { name: 'tail', type: "'one;' | 'two='", value: 'one;' },
      { name: 'levels', type: 'number[]', value: [1, 0.5, 2] },
      { name: 'nested', type: '', value: [[true, null], []] },
      { name: 'empty', type: '', value: '' },
    ]);
  });

  it.each([
    ['const seed = 1;', 'line 1: found "const seed = 1;"'],
    ['let a = 1;\nlet seed = other;', 'line 2: found "let seed = other;"'],
    ['let seed = 1 + 1;', 'line 1'],
    ['let seed = `text`;', 'line 1'],
    ['let seed = 1', 'line 1'],
    ['let seed;', 'line 1'],
    ['let seed = [1, other];', 'line 1'],
    ['let seed = [1 2];', 'line 1'],
    ['function f() {}', 'line 1'],
    ['let a = 1, b = 2;', 'line 1'],
  ])('may be nothing but let with a literal: %s', (text, message) => {
    expect(() => declarationsIn(text, 'cell 2')).toThrow(`cell 2, ${message}`);
    expect(() => declarationsIn(text, 'cell 2')).toThrow('expected let name = literal;');
  });

  it('have each name once', () => {
    expect(() => declarationsIn('let a = 1;\nlet a = 2;', 'cell 2')).toThrow(
      'cell 2, line 2: the parameter a is declared twice',
    );
  });

  it('stand in exactly one cell', () => {
    expect(() => parametersOf(notebookOf('1'))).toThrow(
      'found 0 cells tagged "parameters", expected exactly one',
    );
    expect(() => parametersOf(notebookOf(parameters(''), parameters('')))).toThrow('found 2 cells');
  });
});

describe('values for parameters', () => {
  it('are assigned in a cell after the declarations', () => {
    const values = { study: 'a "b"\n', seed: 2, levels: [0.1, -3], nested: [[false], [null]] };
    const { cells } = injectParameters(notebook, values);
    expect(cells.map((cell) => cell.id)).toEqual(['cell-1', 'cell-2', 'injected-parameters', 'cell-3']);
    expect(tagsOf(cells[2]!)).toEqual(['injected-parameters']);
    expect(cells[2]!.source).toBe(
      'study = "a \\"b\\"\\n";\nseed = 2;\nlevels = [0.1, -3];\nnested = [[false], [null]];\nvoid 0;',
    );
  });

  it('replace those of an earlier injection, and none takes them away', () => {
    const once = injectParameters(notebook, { seed: 2 });
    expect(injectParameters(once, { seed: 3 })).toEqual(injectParameters(notebook, { seed: 3 }));
    expect(injectParameters(once, {})).toEqual(notebook);
  });

  it('are refused under a name that is not declared, and when not finite', () => {
    expect(() => injectParameters(notebook, { sed: 1, seed: 2 })).toThrow(
      /^no parameter sed: cell 2 declares study, seed, tail, levels, nested, empty\n\/\/ Where/,
    );
    expect(() => injectParameters(notebook, { seed: Number.NaN })).toThrow('parameter seed: found NaN');
    expect(() => injectParameters(notebookOf('1'), { seed: 1 })).toThrow(InputError);
  });

  it('are read from a command line by the kind of the declared value', () => {
    const read = (text: string, value: Parameters<typeof parameterFromText>[1]['value']) =>
      parameterFromText(text, { name: 'p', type: '', value });
    expect([
      read('42', ''),
      read(' 42 ', 0),
      read('true', false),
      read('[1, 2]', []),
      read("'a'", null),
    ]).toEqual(['42', 42, true, [1, 2], 'a']);
    expect(() => read('4 2', 0)).toThrow('parameter p: found "4 2", expected a number such as 0');
    expect(() => read('yes', true)).toThrow('expected a boolean such as true');
    expect(() => read('1', [1])).toThrow('expected a list such as [1]');
    expect(() => read('a', null)).toThrow('expected a literal such as null');
  });
});
