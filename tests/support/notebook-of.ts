import type { Metadata, Notebook, NotebookCell } from '../../src/notebook/format/notebook.js';

/** A code cell before it has run. */
export function code(
  source: string,
  metadata: Metadata = {},
): Omit<NotebookCell & { cell_type: 'code' }, 'id'> {
  return { cell_type: 'code', metadata, source, execution_count: null, outputs: [] };
}

export function markdown(source: string): Omit<NotebookCell & { cell_type: 'markdown' | 'raw' }, 'id'> {
  return { cell_type: 'markdown', metadata: {}, source };
}

export function parameters(source: string): ReturnType<typeof code> {
  return code(source, { tags: ['parameters'] });
}

/** A notebook for the project's kernel; text alone stands for a code cell. */
export function notebookOf(
  ...cells: readonly (string | ReturnType<typeof code> | ReturnType<typeof markdown>)[]
): Notebook {
  return {
    nbformat: 4,
    nbformat_minor: 5,
    metadata: { kernelspec: { display_name: 'TypeScript (tslab)', language: 'typescript', name: 'tslab' } },
    cells: cells.map((cell, i) => ({
      ...(typeof cell === 'string' ? code(cell) : cell),
      id: `cell-${i + 1}`,
    })),
  };
}
