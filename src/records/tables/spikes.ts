/** One addition of a known amount. */
export interface SpikeRecord {
  readonly digestion: string;
  /** Digestion of the same sample without the addition; several partners are separated by a vertical bar. */
  readonly unspikedPartner: string;
  readonly stage: 'before fusion' | 'after dissolution';
  readonly analyte: string;
  readonly addedMg: number;
  readonly standardUncertaintyMg: number;
}
