import { InputError } from '../../errors.js';
import type { ReportDocument, Section } from '../document.js';

function ofSection(section: Section): string[] {
  const blocks = section.blocks.flatMap((block) => ('id' in block ? [block.id] : []));
  return [section.id, ...blocks, ...section.sections.flatMap(ofSection)];
}

function linksOf(section: Section): string[] {
  const tables = section.blocks.flatMap((block) =>
    block.kind === 'table' ? [block] : block.kind === 'figure' ? [block.table] : [],
  );
  const links = tables.flatMap((table) =>
    table.rows.flatMap((row) =>
      row.flatMap((cell) => (cell.kind === 'text' && cell.link !== undefined ? [cell.link] : [])),
    ),
  );
  return [...links, ...section.sections.flatMap(linksOf)];
}

/**
 * Holds a document to its identifiers: each names one thing, and each link leads to one of them.
 *
 * @throws InputError an identifier is used twice, or a link leads nowhere
 */
export function requireSoundIdentifiers(document: ReportDocument): void {
  const seen = new Set<string>();
  for (const id of document.sections.flatMap(ofSection)) {
    if (seen.has(id)) throw new InputError(`identifier "${id}": found twice in one document, expected once`);
    seen.add(id);
  }
  for (const link of document.sections.flatMap(linksOf)) {
    if (!seen.has(link)) {
      throw new InputError(
        `link to "${link}": found no section, table or figure of that name in the document`,
      );
    }
  }
}
