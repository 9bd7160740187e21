/** One further dilution of a digestion's solution, by mass (g) or to a volume (mL). */
export interface DilutionRecord {
  readonly dilution: string;
  readonly digestion: string;
  readonly aliquotG: number;
  /** Exactly one of the two final amounts is given. */
  readonly finalG: number | null;
  readonly finalML: number | null;
  readonly diluent: string;
  readonly internalStandardG: number | null;
}
