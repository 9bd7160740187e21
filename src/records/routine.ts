/** Limits that a customer or a standard sets for one analyte, in the form and unit of the plan. */
export interface SpecificationRecord {
  readonly analyte: string;
  /** Null where there is none on that side; not both. */
  readonly lower: number | null;
  readonly upper: number | null;
  readonly unit: 'mg/kg' | 'g/100 g';
  /** Where the limits stand: order, specification, issue. */
  readonly document: string;
}

/** What makes a study a routine run: which validation its uncertainties rest on, and what its results are held against. */
export interface RoutineRecord {
  /** Study of the validation, by its name. */
  readonly validation: string;
  readonly decisionRule: 'simple acceptance' | 'guarded acceptance' | 'guarded rejection';
  /** Largest probability of a wrong decision at a limit, for the guarded rules. */
  readonly risk: number;
  readonly specifications: readonly SpecificationRecord[];
}
