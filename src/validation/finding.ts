/**
 * Outcome of comparing a performance characteristic with its criterion at one-sided 95 % confidence.
 * *met*: the limit on the unfavourable side clears the criterion; *not met*: even the limit on the favourable side fails it.
 */
export type Verdict = 'met' | 'not met' | 'not shown' | 'no criterion' | 'not studied';

/** A requirement set before the work, with its reason and owner. */
export interface Criterion {
  /** `at most`: estimate ≤ limit; `at least`: estimate ≥ limit; `within`: −limit ≤ estimate ≤ limit, or lower ≤ estimate ≤ limit where `lower` is given. */
  readonly kind: 'at most' | 'at least' | 'within';
  readonly limit: number;
  readonly lower?: number;
  readonly unit: string;
  readonly reason: string;
  readonly owner: string;
}

/** Rows of one table that a figure rests on; keys are those of the table (such as digestion names). */
export interface RowReference {
  readonly table: string;
  readonly keys: readonly string[];
}

/** A limit pair at stated confidence. */
export interface ConfidenceLimits {
  /** One-sided 95 % lower and upper limit: each decides one direction of a verdict. */
  readonly lowerOneSided: number;
  readonly upperOneSided: number;
  /** Two-sided 95 % interval. */
  readonly low: number;
  readonly high: number;
}

/** One performance characteristic of one analyte at one level: the unit of the table of verdicts. */
export interface Finding {
  /** Stable identifier, such as `trueness/Al/QRM-2`. */
  readonly id: string;
  readonly characteristic: string;
  readonly analyte: string;
  readonly level: string;
  /** What was estimated, in words: "relative intermediate precision standard deviation". */
  readonly quantity: string;
  readonly unit: string;
  readonly estimate: number | null;
  readonly limits: ConfidenceLimits | null;
  readonly degreesOfFreedom: number | null;
  /** Number of independent results behind the estimate. */
  readonly n: number;
  readonly criterion: Criterion | null;
  readonly verdict: Verdict;
  /** One sentence that says why the verdict is what it is; for *not shown*, what would show it. */
  readonly reason: string;
  /** Published source of the calculation: document, edition, clause. */
  readonly clause: string;
  readonly method: string;
  readonly rows: readonly RowReference[];
  readonly notes: readonly string[];
  /** What a *met* verdict rests on that is itself open, each a clause without full stop; left out where there is nothing. */
  readonly conditions?: readonly string[];
}
