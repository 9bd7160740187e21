/** Clauses of ISO/IEC 17025:2017 that the records of a method can bear on. Numbers from memory. */
export const evidenceClauses = [
  '6.2',
  '6.3',
  '6.4',
  '6.4.10',
  '6.5',
  '6.6',
  '7.1.3',
  '7.2.1',
  '7.2.2',
  '7.3',
  '7.4',
  '7.5',
  '7.6',
  '7.7',
  '7.8',
  '7.10',
  '7.11',
  '8.3',
  '8.4',
  '8.5',
  '8.7',
  '8.8',
] as const;

export type EvidenceClause = (typeof evidenceClauses)[number];

/** Evidence that is no part of these records: somebody says what it is and where it is kept. */
export interface EvidenceRecord {
  readonly clause: EvidenceClause;
  readonly what: string;
  readonly keptAt: string;
  readonly namedBy: string;
  /** ISO date. */
  readonly on: string;
}
