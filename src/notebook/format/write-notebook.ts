import { writeFile } from 'node:fs/promises';
import type { Notebook } from './notebook.js';

/**
 * Text of a notebook's file, as Jupyter itself lays it out: keys sorted, one space of indent, texts as lists of
 * lines, so that a change shows line by line and saving in Jupyter changes nothing else.
 *
 * @example
 * notebookToText({ nbformat: 4, nbformat_minor: 5, metadata: {}, cells: [] }).split('\n')[0] // => '{'
 */
export function notebookToText(notebook: Notebook): string {
  return `${JSON.stringify(laidOut(notebook), null, 1)}\n`;
}

/** Writes a notebook to a file, over what was there. */
export async function writeNotebook(path: string, notebook: Notebook): Promise<void> {
  await writeFile(path, notebookToText(notebook));
}

/** Fields whose text the format keeps as lines; those inside `data` are media types. */
const asLines = new Set(['source', 'text']);

function laidOut(value: unknown, key = '', parent = ''): unknown {
  if (typeof value === 'string') {
    const lines = asLines.has(key) || (parent === 'data' && key.includes('/') && !/[/+]json$/.test(key));
    return lines ? linesOf(value) : value;
  }
  if (Array.isArray(value)) return value.map((item) => laidOut(item));
  if (typeof value !== 'object' || value === null) return value;
  // Metadata and JSON data are not ours to lay out: only their keys are sorted.
  const foreign = key === 'metadata' || (parent === 'data' && key.includes('/'));
  const entries = Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1));
  return Object.fromEntries(entries.map(([k, v]) => [k, foreign ? sorted(v) : laidOut(v, k, key)]));
}

function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted);
  if (typeof value !== 'object' || value === null) return value;
  const entries = Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1));
  return Object.fromEntries(entries.map(([k, v]) => [k, sorted(v)]));
}

function linesOf(text: string): string[] {
  return text.match(/[^\n]*\n|[^\n]+$/g) ?? [];
}
