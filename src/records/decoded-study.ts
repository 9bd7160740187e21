import type { EquipmentRecord, StudyPlan } from './study.js';
import type { RecordOf, TableName } from './study-tables.js';
import type { DecodedTable } from './table-form/table-decoder.js';

/** One file of a study and the fingerprint of the bytes it was decoded from. */
export interface SourceFile {
  readonly file: string;
  /** Rows below the heading; `null` for a document or workbook. */
  readonly rows: number | null;
  readonly sha256: string;
  /** Name of the workbook that this table is a sheet of; absent for a file of its own. */
  readonly sheetOf?: string;
}

/** All tables that were given. */
export type DecodedTables = { readonly [N in TableName]?: DecodedTable<RecordOf<N>> };

/** A study after decoding, before the tables are held against each other; `null` for a document that did not pass. */
export interface DecodedStudy {
  readonly plan: StudyPlan | null;
  readonly equipment: readonly EquipmentRecord[] | null;
  readonly tables: DecodedTables;
  readonly files: readonly SourceFile[];
}
