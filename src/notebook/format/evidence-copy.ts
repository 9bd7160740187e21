import type { Notebook, Output } from './notebook.js';

/**
 * An executed notebook that stands alone in a folder of evidence: scripts, and links to files of the installed
 * packages, are taken out of its HTML. A figure then shows its table, which holds every number drawn.
 */
export function evidenceCopy(notebook: Notebook): Notebook {
  const cells = notebook.cells.map((cell) =>
    cell.cell_type === 'code' ? { ...cell, outputs: cell.outputs.map(standingAlone) } : cell,
  );
  return { ...notebook, cells };
}

const script = /<script\b[^>]*>[\s\S]*?<\/script\s*>/gi;
const link = /\s(?:src|href)\s*=\s*(?:"[^"]*node_modules[^"]*"|'[^']*node_modules[^']*')/gi;

function standingAlone(output: Output): Output {
  if (!('data' in output)) return output;
  const html = output.data['text/html'];
  if (typeof html !== 'string') return output;
  return { ...output, data: { ...output.data, 'text/html': html.replace(script, '').replace(link, '') } };
}
