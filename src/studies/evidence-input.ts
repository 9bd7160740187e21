import type { StudyRecords } from '../records/study-records.js';
import type { Finding } from '../validation/finding.js';
import type { SelfCheckSummary } from './self-check/summary.js';

/** One issued report, as the ledger names it. */
export interface IssuedReport {
  readonly number: string;
  readonly issuedOn: string;
}

/** What the index is made from. `today` is an ISO date. */
export interface EvidenceInput {
  readonly records: StudyRecords;
  readonly findings: readonly Finding[];
  /** Each budget by its analyte, with what it does not hold. */
  readonly budgets: readonly { readonly analyte: string; readonly outsideBudget: string | null }[];
  readonly issued: readonly IssuedReport[];
  readonly selfCheck: SelfCheckSummary;
  readonly auditProblems: readonly string[];
  readonly today: string;
}
