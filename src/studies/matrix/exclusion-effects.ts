import type { StudyRecords } from '../../records/study-records.js';
import type { ExclusionRecord } from '../../records/tables/exclusions.js';
import type { Finding } from '../../validation/finding.js';
import { type MatrixValidation, validateMatrix } from './validate-matrix.js';

/** What one cause of exclusion does to the findings. */
export interface ExclusionEffect {
  readonly technicalCause: string;
  readonly who: string;
  readonly rows: readonly ExclusionRecord[];
  /** Findings that differ with the rows put back, as they stand and as they would be. */
  readonly changed: readonly { readonly without: Finding; readonly withRows: Finding }[];
}

/**
 * Findings with and without each exclusion: rows that share a recorded cause are put back together and everything is computed
 * again.
 *
 * @param records as recorded, with their exclusions
 * @param validation of the same records
 * @throws InputError rows that cannot be evaluated once they are put back
 * @see ISO/IEC 17025:2017, 7.5 and 7.11 (technical records; clauses from memory)
 */
export function exclusionEffects(records: StudyRecords, validation: MatrixValidation): ExclusionEffect[] {
  const causes = [...new Set(records.exclusions.map((e) => `${e.who}|${e.technicalCause}`))];
  return causes.map((cause) => {
    const rows = records.exclusions.filter((e) => `${e.who}|${e.technicalCause}` === cause);
    const exclusions = records.exclusions.filter((e) => !rows.includes(e));
    const { findings } = validateMatrix({ ...records, exclusions });
    const changed = validation.findings.flatMap((without) => {
      const withRows = findings.find((f) => f.id === without.id);
      return withRows === undefined || !differs(without, withRows) ? [] : [{ without, withRows }];
    });
    return { technicalCause: rows[0]!.technicalCause, who: rows[0]!.who, rows, changed };
  });
}

function differs(one: Finding, other: Finding): boolean {
  return one.estimate !== other.estimate || one.verdict !== other.verdict || one.n !== other.n;
}
