import { lossesBetween, type SolidState } from '../chain/mass-on-basis.js';
import { type StudyPlan, stateOfPortions } from '../records/study.js';

const meanings: Readonly<Record<SolidState, string>> = {
  'as received': 'as received',
  dry: 'dry: contents of the sample without its moisture',
  ignited: 'ignited: contents of the sample without its moisture and its loss on ignition',
};

/**
 * What results refer to, in which state portions are weighed and what brings them from one to the other, in words.
 *
 * @example
 * basisOfResults({ basis: 'as received' }) // => 'as received; portions are weighed as received'
 */
export function basisOfResults(plan: Pick<StudyPlan, 'basis' | 'portionsWeighed'>): string {
  const weighed = stateOfPortions(plan);
  const steps = lossesBetween(weighed, plan.basis).map(({ step }) => step);
  const brought =
    steps.length === 0
      ? ''
      : ` and brought to this basis by the loss recorded for each sample, ${steps.join(' and ')}`;
  return `${meanings[plan.basis]}; portions are weighed ${weighed}${brought}`;
}
