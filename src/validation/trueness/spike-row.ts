/** One addition of a known amount, with what was found in the spiked and in the unspiked digestion. */
export interface SpikeRow {
  /** Spiked digestion, and the digestions of the same sample without addition. */
  readonly key: string;
  readonly partners: readonly string[];
  readonly day: string;
  /** Amount found in the spiked digestion, blank taken off. */
  readonly foundMg: number;
  /** Mass fraction of the unspiked sample and the portion that was spiked, on one basis. */
  readonly unspikedMgPerKg: number;
  readonly portionG: number;
  readonly addedMg: number;
  readonly addedStandardUncertaintyMg: number;
}
