import { type Notebook, tagsOf } from './notebook.js';

/**
 * A notebook's sources as plain text, for a reviewer without Jupyter: number, kind and tags of each cell, then its
 * source.
 *
 * @example
 * notebookAsText({ nbformat: 4, nbformat_minor: 5, metadata: {}, cells: [{ cell_type: 'markdown', id: 'a', metadata: {}, source: '# Plan' }] }) // => '--- cell 1, markdown\n# Plan\n'
 */
export function notebookAsText(notebook: Notebook): string {
  const cells = notebook.cells.map((cell, i) =>
    [`--- cell ${i + 1}`, cell.cell_type, ...tagsOf(cell)].join(', ').concat(`\n${cell.source.trimEnd()}\n`),
  );
  return cells.join('\n');
}
