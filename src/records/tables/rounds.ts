/** One proficiency-test result. */
export interface RoundRecord {
  readonly round: string;
  readonly material: string;
  readonly analyte: string;
  readonly value: number;
  readonly unit: string;
  readonly expandedUncertainty: number;
  readonly assignedValue: number;
  readonly assignedStandardUncertainty: number;
  readonly sigmaPt: number;
}
