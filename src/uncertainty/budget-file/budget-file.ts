import type { Correlation, Distribution, SourceKind } from '../input-quantity.js';
import type { ExactValue } from '../inputs/exact-value.js';
import type { CertifiedValue } from '../inputs/from-certificate.js';
import type { CountedValue } from '../inputs/from-counts.js';
import type { JudgedValue } from '../inputs/from-judgement.js';
import type { LimitedValue } from '../inputs/from-limits.js';
import type { Observations } from '../inputs/from-records.js';
import type { InputDescription } from '../inputs/input-description.js';
import type { ModelEquation } from '../measurement-model.js';
import type { ImprovementAction } from '../what-would-it-take.js';

/** What the `format` member of a budget file says. */
export const budgetFileFormat = 'meltbook budget 1';

/** A quantity whose standard uncertainty was evaluated elsewhere. */
export interface StatedValue extends InputDescription {
  readonly estimate: number;
  readonly standardUncertainty: number;
  /** Infinite unless stated. */
  readonly degreesOfFreedom?: number;
  /** Normal unless stated. */
  readonly distribution?: Distribution;
  /** `B` unless stated. */
  readonly evaluation?: 'A' | 'B';
  readonly sourceKind: SourceKind;
  /** Name of the joint evaluation that several inputs share. */
  readonly jointSource?: string;
}

/** One input quantity of a budget file; `from` says what is known of it. */
export type BudgetFileInput =
  | (CertifiedValue & { readonly from: 'certificate' })
  | (LimitedValue & { readonly from: 'limits' })
  /** Observations of one `jointSource` were made together: values of the same position belong to each other. */
  | (Observations & { readonly from: 'observations'; readonly jointSource?: string })
  | (JudgedValue & { readonly from: 'judgement' })
  | (CountedValue & { readonly from: 'counts' })
  | (ExactValue & { readonly from: 'definition' })
  | (StatedValue & { readonly from: 'statement' });

/** Largest expanded uncertainty of an output that serves the purpose. */
export interface BudgetFileTarget {
  readonly output: string;
  readonly expandedUncertainty: number;
}

/** A budget file: a measurement model, its input quantities and what is asked of it, as JSON. */
export interface BudgetFile {
  readonly format: typeof budgetFileFormat;
  readonly title: string;
  readonly equations: readonly ModelEquation[];
  readonly outputs: readonly string[];
  readonly inputs: readonly BudgetFileInput[];
  readonly correlations?: readonly Correlation[];
  /** 0.95 unless stated. */
  readonly coverageProbability?: number;
  readonly targets?: readonly BudgetFileTarget[];
  /** What the laboratory could do to meet a target. */
  readonly actions?: readonly ImprovementAction[];
  /** Where the figures come from, or that they are invented; shown with the result. */
  readonly remark?: string;
}
