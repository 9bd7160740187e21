import { type LossOfMass, lossesBetween } from '../chain/mass-on-basis.js';
import { InputError } from '../errors.js';
import { stateOfPortions } from '../records/study.js';
import type { DigestionRecord } from '../records/tables/digestions.js';
import type { MoistureRecord } from '../records/tables/moisture.js';
import { lossKey, type StudyIndex } from './study-index.js';

/** Where a recorded loss stands: all results of the sample share it. */
export function lossSource({ sample, basis }: Pick<MoistureRecord, 'sample' | 'basis'>): string {
  return `moisture, row ${sample}, ${basis}`;
}

/**
 * Losses of mass between the state in which the plan weighs portions and the one its results refer to, as recorded for the sample
 * of a digestion; none for a blank, which has no sample.
 *
 * @throws InputError a loss that the conversion needs and the table moisture does not hold
 */
export function lossesOfPortion(
  { records: { plan }, losses }: Pick<StudyIndex, 'records' | 'losses'>,
  { digestion, sample, kind }: Pick<DigestionRecord, 'digestion' | 'sample' | 'kind'>,
): LossOfMass[] {
  if (kind === 'blank') return [];
  const weighed = stateOfPortions(plan);
  return lossesBetween(weighed, plan.basis).map(({ step, restored }) => {
    const record = losses.get(lossKey(sample, step));
    if (record === undefined) {
      throw new InputError(
        `digestion ${digestion}: found no loss "${step}" of ${sample}, expected one in the table moisture, as portions are weighed ${weighed} and results are on the basis ${plan.basis}`,
      );
    }
    return {
      step,
      restored,
      fraction: record.lossGPer100G / 100,
      standardUncertainty: record.standardUncertaintyGPer100G / 100,
      source: lossSource(record),
    };
  });
}
