import { lossesBetween } from '../../chain/mass-on-basis.js';
import { stateOfPortions } from '../study.js';
import type { StudyView } from './study-view.js';

/**
 * Every portion has the losses of mass that lie between the state it is weighed in and the basis of the results: its result would
 * else silently stand on another basis.
 */
export function checkLossesOfMass(view: StudyView): void {
  const { plan } = view.study;
  if (plan === null || !view.isComplete('digestions') || !view.isCompleteOrAbsent('moisture')) return;
  const weighed = stateOfPortions(plan);
  const excluded = new Set(
    view.records('exclusions').flatMap(({ table, rowKey }) => (table === 'moisture' ? [rowKey] : [])),
  );
  for (const { step } of lossesBetween(weighed, plan.basis)) {
    const known = new Set(
      view
        .withBroken('moisture')
        // A basis that could not be read may be the one that is wanted.
        .flatMap(({ sample, basis }) =>
          basis === undefined || (basis === step && !excluded.has(`${sample}|${basis}`)) ? [sample] : [],
        ),
    );
    const expected = `a sample with a row "${step}" in the table moisture that is not excluded, as study.json weighs portions ${weighed} (portionsWeighed) and reports on the basis ${plan.basis}`;
    view.each('digestions', ({ kind, sample }) =>
      kind === 'blank' || known.has(sample) ? null : { code: 'loss of mass', field: 'sample', expected },
    );
  }
}
