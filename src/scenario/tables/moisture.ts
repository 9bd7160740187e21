import type { MoistureRecord } from '../../records/tables/moisture.js';
import { type Material, materials } from '../design/materials.js';

/** Moisture of every sample and reference material, as the laboratory found it. */
export function moistureRecords(): MoistureRecord[] {
  return (Object.keys(materials) as Material[]).map((sample) => ({
    sample,
    lossGPer100G: materials[sample].moisture,
    basis: 'as received to dry',
    standardUncertaintyGPer100G: materials[sample].moistureU,
  }));
}
