import type { SourceFile } from '../../records/decoded-study.js';
import { column, countCell, empty, text } from '../cells.js';
import type { Section } from '../document.js';
import { listOf, paragraph, sectionOf } from '../section-of.js';

/**
 * Records used, each with its SHA-256, and the tables that were not given.
 *
 * @see ISO/IEC 17025:2017, 7.5.1, 7.11.3
 */
export function recordsSection(files: readonly SourceFile[], missingTables: readonly string[]): Section {
  return sectionOf({
    id: 'records',
    heading: 'Records used',
    clause: 'ISO/IEC 17025:2017, 7.5.1, 7.11.3',
    blocks: [
      {
        kind: 'table',
        id: 'records/files',
        caption: 'Files read, with their SHA-256',
        columns: [column('File'), column('Rows'), column('SHA-256')],
        rows: files.map(({ file, rows, sha256 }) => [
          text(file),
          rows === null ? empty('a document') : countCell(rows),
          text(sha256),
        ]),
        notes: [],
      },
      ...(missingTables.length === 0
        ? []
        : [paragraph('Tables not given; what rests on them is not studied:')]),
      ...listOf(missingTables),
    ],
  });
}
