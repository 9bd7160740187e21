import { type Notebook, tagsOf } from '../../src/notebook/format/notebook.js';
import { notebookIssues } from '../../src/notebook/format/notebook-issues.js';
import { declarationsIn } from '../../src/notebook/format/parameter-declarations.js';

const limits = { cells: 30, codeLines: 120, cellLines: 8 };
const keyword = /\b(?:function|class|for|while)\b/;
const imported = /\bfrom\s+['"]([^'"]+)['"]|\bimport\s*\(|\brequire\s*\(|^\s*import\s+['"]([^'"]+)['"]/gm;

/**
 * What keeps a notebook from being a thin, reviewable source: prose, parameters, calls, pictures. A formula, a loop
 * or parsing belongs into a module, where it has a test.
 */
export function brokenNotebookRules(notebook: Notebook): string[] {
  const broken = [...notebookIssues(notebook)];
  const { kernelspec, language_info: _, ...stray } = notebook.metadata;
  if ((kernelspec as { name?: string } | undefined)?.name !== 'tslab') broken.push('kernel: not tslab');
  if (Object.keys(stray).length > 0) broken.push(`metadata: ${Object.keys(stray).join(', ')}`);
  const { cells } = notebook;
  if (cells[0]?.cell_type !== 'markdown' || !cells[0].source.startsWith('# ')) broken.push('no title');
  if (cells.length > limits.cells) broken.push(`${cells.length} cells`);
  broken.push(...parameterRules(notebook));
  let lines = 0;
  for (const [i, cell] of cells.entries()) {
    const name = `cell ${i + 1}`;
    if (Object.keys(cell.metadata).some((key) => key !== 'tags')) broken.push(`${name}: metadata`);
    if (cell.cell_type !== 'code') continue;
    const own = cell.source.split('\n').filter((line) => line.trim() !== '').length;
    lines += own;
    if (own > limits.cellLines) broken.push(`${name}: ${own} lines`);
    if (cell.outputs.length > 0) broken.push(`${name}: has outputs`);
    if (cell.execution_count !== null) broken.push(`${name}: has an execution count`);
    broken.push(...codeRules(cell.source).map((rule) => `${name}: ${rule}`));
  }
  if (lines > limits.codeLines) broken.push(`${lines} lines of code`);
  return broken;
}

function parameterRules(notebook: Notebook): string[] {
  const found = notebook.cells.filter((cell) => tagsOf(cell).includes('parameters'));
  if (found.length !== 1) return [`${found.length} cells of parameters`];
  try {
    declarationsIn(found[0]!.source, 'parameters');
    return [];
  } catch (error) {
    return [(error as Error).message];
  }
}

function codeRules(source: string): string[] {
  const bare = source
    .replace(/\/\/[^\n]*|\/\*[\s\S]*?\*\//g, '')
    .replace(/'(?:[^'\\\n]|\\.)*'|"(?:[^"\\\n]|\\.)*"|`(?:[^`\\]|\\.)*`/g, "''");
  const word = keyword.exec(bare);
  const foreign = [...source.matchAll(imported)]
    .map((match) => match[1] ?? match[2] ?? match[0])
    .filter((name) => name !== 'meltbook' && name !== 'tslab');
  return [...(word ? [`the keyword ${word[0]}`] : []), ...foreign.map((name) => `imports ${name}`)];
}
