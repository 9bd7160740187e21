/** One control result. */
export interface HistoryRecord {
  /** ISO date. */
  readonly date: string;
  readonly run: string;
  readonly material: string;
  readonly analyte: string;
  readonly value: number;
  readonly unit: string;
  /** Identifiers of the equipment in use, joined by vertical bars. */
  readonly equipment: readonly string[];
}
