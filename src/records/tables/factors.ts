/** One run of a ruggedness experiment; `levels` maps each factor to −1 or 1. */
export interface FactorRecord {
  readonly experiment: number;
  readonly levels: Readonly<Record<string, -1 | 1>>;
  readonly response: number;
}
