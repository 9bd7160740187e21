import { readFile } from 'node:fs/promises';
import { InputError } from '../../errors.js';
import type { Notebook, NotebookCell, Output } from './notebook.js';
import { notebookIssues } from './notebook-issues.js';

/**
 * A notebook from its file.
 *
 * @param path an `.ipynb` file
 * @throws InputError the file is not there, not JSON, or not a notebook of format 4.5; every problem is named
 */
export async function readNotebook(path: string): Promise<Notebook> {
  const text = await readFile(path, 'utf8').catch((cause: Error) => {
    throw new InputError(`${path}: the notebook cannot be read (${cause.message})`, { cause });
  });
  return parseNotebook(text, path);
}

/**
 * A notebook from the text of its file; texts that the file keeps as lines are joined.
 *
 * @param text JSON
 * @param name stands in messages
 * @throws InputError not JSON, or not a notebook of format 4.5; every problem is named
 * @example
 * parseNotebook('{"cells":[],"metadata":{},"nbformat":4,"nbformat_minor":5}', 'x.ipynb').cells.length // => 0
 */
export function parseNotebook(text: string, name: string): Notebook {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch (cause) {
    throw new InputError(`${name}: not JSON (${(cause as Error).message})`, { cause });
  }
  const issues = notebookIssues(value);
  if (issues.length > 0) throw new InputError(`${name}: not a notebook\n${issues.join('\n')}`);
  const notebook = value as Notebook;
  return { ...notebook, cells: notebook.cells.map(joinedCell) };
}

function joinedCell(cell: NotebookCell): NotebookCell {
  const source = joined(cell.source);
  if (cell.cell_type !== 'code') return { ...cell, source };
  return { ...cell, source, outputs: cell.outputs.map(joinedOutput) };
}

function joinedOutput(output: Output): Output {
  if (output.output_type === 'stream') return { ...output, text: joined(output.text) };
  if (output.output_type === 'error') return output;
  const data = Object.entries(output.data).map(([type, value]) => [
    type,
    /[/+]json$/.test(type) ? value : joined(value as string),
  ]);
  return { ...output, data: Object.fromEntries(data) };
}

/** The format allows one string or a list of lines wherever text stands. */
function joined(text: string | readonly string[]): string {
  return typeof text === 'string' ? text : text.join('');
}
