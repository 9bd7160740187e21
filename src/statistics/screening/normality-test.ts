/** Outcome of a test of normality. */
export interface NormalityTest {
  readonly statistic: number;
  readonly pValue: number;
  readonly n: number;
  readonly method: string;
  readonly notes: readonly string[];
}
