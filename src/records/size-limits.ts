/** Limits on what is read from outside, so that a wrong or hostile file ends in an issue and not in exhausted memory. */
export const sizeLimits = {
  /** `study.json` and `equipment.json`. */
  jsonBytes: 4 * 1024 * 1024,
  /** One table as CSV. */
  csvBytes: 512 * 1024 * 1024,
  /** One row of a CSV table. */
  csvRowBytes: 1024 * 1024,
  /** Rows of one table, the heading included. */
  rows: 2_000_000,
  columns: 200,
  /** Characters of one text cell: what a spreadsheet cell can hold. */
  cellCharacters: 32_767,
  /** A workbook as it lies on the disc, and unpacked. */
  workbookBytes: 64 * 1024 * 1024,
  workbookUnpackedBytes: 256 * 1024 * 1024,
} as const;

/** The type of `sizeLimits`, so that a test can set smaller ones. */
export type SizeLimits = { readonly [K in keyof typeof sizeLimits]: number };
