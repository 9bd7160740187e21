import { isAbsolute, join } from 'node:path';
import { type FolderContent, writeFolderWhole } from '../records/atomic-write.js';
import { budgetTable } from '../report/budget/budget-table.js';
import type { Block, ReportDocument, Section, Table } from '../report/document.js';
import { anchor } from '../report/html/anchor.js';
import { renderHtml } from '../report/render-html.js';
import { renderJson } from '../report/render-json.js';
import { tableToCsv } from '../report/table-to-csv.js';
import { projectRoot } from './project-root.js';

/** A report as files: path in its folder → content. */
export function reportFiles(document: ReportDocument): Record<string, string> {
  const files: Record<string, string> = {
    'report.html': renderHtml(document),
    'report.json': renderJson(document),
  };
  for (const table of tablesOf(document.sections))
    files[`tables/${anchor(table.id)}.csv`] = tableToCsv(table);
  return files;
}

function tablesOf(sections: readonly Section[]): Table[] {
  return sections.flatMap((section) => [
    ...section.blocks.flatMap(tableOfBlock),
    ...tablesOf(section.sections),
  ]);
}

function tableOfBlock(block: Block): Table[] {
  if (block.kind === 'table') return [block];
  if (block.kind === 'figure') return [block.table];
  if (block.kind === 'budget') return [budgetTable(block.budget, block.id, block.caption)];
  return [];
}

/**
 * Writes a report (HTML, JSON, tables as CSV) into a folder, replacing what a former run left there.
 *
 * @param folder a relative path counts from the project's folder
 * @param more further files, such as a workbook
 * @returns path of the HTML file
 */
export async function saveReport(
  document: ReportDocument,
  folder: string,
  more: FolderContent = {},
): Promise<string> {
  const path = isAbsolute(folder) ? folder : join(projectRoot(), folder);
  await writeFolderWhole(path, { ...reportFiles(document), ...more }, { replace: true });
  return join(path, 'report.html');
}
