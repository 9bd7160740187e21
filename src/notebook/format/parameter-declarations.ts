import { InputError } from '../../errors.js';
import { blank, type Literal, readLiteral, type Scanner, scanner } from './literal.js';
import { type Notebook, tagsOf } from './notebook.js';

/** One `let name: type = literal;` of the cell tagged `parameters`. `type` is empty where none is written. */
export interface ParameterDeclaration {
  readonly name: string;
  readonly type: string;
  readonly value: Literal;
}

const declared = /let\s+([A-Za-z_$][\w$]*)\s*(?::\s*((?:'[^'\n]*'|"[^"\n]*"|[^=;'"])+?))?\s*=\s*/y;

/**
 * Parameters that a notebook declares, with the values it starts from.
 *
 * @throws InputError no cell tagged `parameters` or more than one; a statement that is not `let name = literal;`;
 * a name declared twice
 */
export function parametersOf(notebook: Notebook): readonly ParameterDeclaration[] {
  const at = parametersCell(notebook);
  return declarationsIn(notebook.cells[at]!.source, `cell ${at + 1}`);
}

/**
 * Place of the one cell tagged `parameters`, counted from 0.
 *
 * @throws InputError none or more than one
 */
export function parametersCell(notebook: Notebook): number {
  const found = notebook.cells.flatMap((cell, i) => (tagsOf(cell).includes('parameters') ? [i] : []));
  if (found.length !== 1) {
    throw new InputError(`found ${found.length} cells tagged "parameters", expected exactly one`);
  }
  return found[0]!;
}

/**
 * Declarations in the source of a parameters cell: `let` with a literal, and comments. Nothing else may stand
 * there: a function in the same cell would go on seeing the values from before an injection.
 *
 * @param place stands in messages
 * @throws InputError a statement that is not `let name = literal;`; a name declared twice
 * @example
 * declarationsIn("let seed = 1; let tail: 'one' | 'two' = 'two';", 'cell 2')[1]?.type // => "'one' | 'two'"
 */
export function declarationsIn(source: string, place: string): readonly ParameterDeclaration[] {
  const found: ParameterDeclaration[] = [];
  const scan = scanner(source);
  for (scan.take(blank); !scan.atEnd(); scan.take(blank)) {
    const line = scan.line();
    const declaration = readDeclaration(scan);
    if (!declaration) {
      const statement = source.split('\n')[line - 1]!.trim();
      throw new InputError(`${place}, line ${line}: found "${statement}", expected let name = literal;`);
    }
    if (found.some((other) => other.name === declaration.name)) {
      throw new InputError(`${place}, line ${line}: the parameter ${declaration.name} is declared twice`);
    }
    found.push(declaration);
  }
  return found;
}

function readDeclaration(scan: Scanner): ParameterDeclaration | undefined {
  const start = scan.take(declared);
  const value = start ? readLiteral(scan) : undefined;
  if (!start || value === undefined) return undefined;
  scan.take(blank);
  return scan.take(/;/y) ? { name: start[1]!, type: start[2]?.trim() ?? '', value } : undefined;
}
