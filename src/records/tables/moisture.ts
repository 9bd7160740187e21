/** Moisture (or loss on ignition) of one sample, in g/100 g of the basis named. */
export interface MoistureRecord {
  readonly sample: string;
  readonly lossGPer100G: number;
  readonly basis: 'as received to dry' | 'dry to ignited';
  readonly standardUncertaintyGPer100G: number;
}
