import type { InputQuantity } from './input-quantity.js';

/** One line of an uncertainty budget. `contribution` = |sensitivity| · u in the unit of the output. */
export interface BudgetLine {
  readonly input: InputQuantity;
  readonly sensitivity: number;
  readonly contribution: number;
  /** Share of the output's variance; covariance terms are split evenly between the two inputs, so shares add to 1 and one may be negative. */
  readonly share: number;
}

/** An uncertainty budget of one output quantity (GUM clause 5 to 7; Annex G). */
export interface Budget {
  readonly output: string;
  readonly description: string;
  readonly unit: string;
  readonly estimate: number;
  readonly standardUncertainty: number;
  readonly effectiveDegreesOfFreedom: number;
  readonly coverageProbability: number;
  readonly coverageFactor: number;
  readonly expandedUncertainty: number;
  /** Lines in the order of the inputs. */
  readonly lines: readonly BudgetLine[];
  readonly notes: readonly string[];
}
