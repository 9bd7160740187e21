import { InputError } from '../../errors.js';
import { type Literal, readLiteral, scanner } from './literal.js';
import { type CodeCell, type Notebook, type NotebookCell, tagsOf } from './notebook.js';
import { type ParameterDeclaration, parametersCell, parametersOf } from './parameter-declarations.js';

/** Values for parameters by name. */
export type ParameterValues = Readonly<Record<string, Literal>>;

/**
 * The notebook with values for its parameters, in a cell of assignments tagged `injected-parameters` right after
 * the cell tagged `parameters`; a cell of an earlier injection is replaced. The types are checked by the kernel
 * when it runs the assignments.
 *
 * @param values a name left out keeps the notebook's own value
 * @throws InputError a name that the notebook does not declare; a number that is not finite
 */
export function injectParameters(notebook: Notebook, values: ParameterValues): Notebook {
  const cells = notebook.cells.filter((cell) => !tagsOf(cell).includes('injected-parameters'));
  const names = Object.keys(values);
  if (names.length === 0) return { ...notebook, cells };
  const at = parametersCell({ ...notebook, cells });
  const known = parametersOf({ ...notebook, cells }).map((declaration) => declaration.name);
  const unknown = names.filter((name) => !known.includes(name));
  if (unknown.length > 0) {
    throw new InputError(
      `no parameter ${unknown.join(', ')}: cell ${at + 1} declares ${known.join(', ') || 'none'}\n${cells[at]!.source}`,
    );
  }
  const assignments = names.map((name) => `${name} = ${literalText(values[name]!, name)};`);
  const injected: CodeCell = {
    cell_type: 'code',
    id: freeId(cells),
    metadata: { tags: ['injected-parameters'] },
    // Without the last statement the kernel would print the last value.
    source: [...assignments, 'void 0;'].join('\n'),
    execution_count: null,
    outputs: [],
  };
  return { ...notebook, cells: [...cells.slice(0, at + 1), injected, ...cells.slice(at + 1)] };
}

/**
 * The value that a text from a command line stands for, by the kind of the declared value.
 *
 * @throws InputError the text is not of that kind
 * @example
 * parameterFromText('42', { name: 'seed', type: '', value: 1 }) // => 42
 * @example
 * parameterFromText('42', { name: 'study', type: 'string', value: 'zircon-pigment' }) // => '42'
 */
export function parameterFromText(text: string, declaration: ParameterDeclaration): Literal {
  const { name, value } = declaration;
  if (typeof value === 'string') return text;
  const scan = scanner(text.trim());
  const read = readLiteral(scan);
  const sameKind =
    value === null || (typeof read === typeof value && Array.isArray(read) === Array.isArray(value));
  if (read === undefined || !scan.atEnd() || !sameKind) {
    const kind = value === null ? 'literal' : Array.isArray(value) ? 'list' : typeof value;
    throw new InputError(
      `parameter ${name}: found "${text}", expected a ${kind} such as ${literalText(value, name)}`,
    );
  }
  return read;
}

function literalText(value: Literal, name: string): string {
  if (Array.isArray(value)) return `[${value.map((item: Literal) => literalText(item, name)).join(', ')}]`;
  if (typeof value === 'number' && !Number.isFinite(value)) {
    throw new InputError(`parameter ${name}: found ${value}, expected a finite number`);
  }
  return JSON.stringify(value);
}

function freeId(cells: readonly NotebookCell[]): string {
  let id = 'injected-parameters';
  while (cells.some((cell) => cell.id === id)) id += '-';
  return id;
}
