import { type LossStep, lossesBetween, type SolidState } from '../chain/mass-on-basis.js';
import { type StudyPlan, stateOfPortions } from '../records/study.js';

const meanings: Readonly<Record<SolidState, string>> = {
  'as received': 'as received',
  dry: 'dry (without moisture)',
  ignited: 'ignited (without moisture and loss on ignition)',
};

const lossNames: Readonly<Record<LossStep, string>> = {
  'as received to dry': 'loss on drying',
  'dry to ignited': 'loss on ignition',
};

/**
 * What results refer to, in which state portions are weighed and what brings them from one to the other, in words.
 *
 * @example
 * basisOfResults({ basis: 'as received' }) // => 'as received; portions weighed as received'
 */
export function basisOfResults(plan: Pick<StudyPlan, 'basis' | 'portionsWeighed'>): string {
  const weighed = stateOfPortions(plan);
  const losses = lossesBetween(weighed, plan.basis).map(({ step }) => lossNames[step]);
  const brought = losses.length === 0 ? '' : `, by the ${losses.join(' and ')} recorded for each sample`;
  return `${meanings[plan.basis]}${brought}; portions weighed ${weighed}`;
}
