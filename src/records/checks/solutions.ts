import { planSolutions } from './plan-solutions.js';
import type { StudyView } from './study-view.js';

/**
 * Names of solutions: every reading is of a solution somebody made, every dilution of a digestion there is, and one name
 * means one solution.
 */
export function checkSolutions(view: StudyView): void {
  checkNames(view);
  checkDilutions(view);
  checkReadings(view);
}

function checkNames(view: StudyView): void {
  const digestions = view.values('digestions', 'digestion');
  const dilutions = view.values('dilutions', 'dilution');
  view.each('dilutions', ({ dilution }) =>
    digestions.has(dilution)
      ? { code: 'name taken', field: 'dilution', expected: 'a name that no digestion bears' }
      : null,
  );
  view.each('calibration', ({ solution }) =>
    digestions.has(solution) || dilutions.has(solution)
      ? { code: 'name taken', field: 'solution', expected: 'a name that no digestion or dilution bears' }
      : null,
  );
}

function checkDilutions(view: StudyView): void {
  if (!view.isComplete('digestions')) return;
  const digestions = view.values('digestions', 'digestion');
  view.each('dilutions', ({ digestion }) =>
    digestions.has(digestion)
      ? null
      : { code: 'unknown digestion', field: 'digestion', expected: 'a digestion of the table digestions' },
  );
}

function checkReadings(view: StudyView): void {
  const { plan } = view.study;
  const canTell =
    view.isComplete('digestions') &&
    view.isComplete('calibration') &&
    view.isCompleteOrAbsent('dilutions') &&
    view.isCompleteOrAbsent('additions');
  if (!canTell || plan === null || view.records('readings').length === 0) return;
  const common = new Set<string>([
    ...view.values('digestions', 'digestion'),
    ...view.values('dilutions', 'dilution'),
    ...view.values('additions', 'solution'),
    ...planSolutions(plan),
  ]);
  const standards = new Map<string, Set<string>>();
  for (const { run, solution } of view.withBroken('calibration')) {
    if (run === undefined || solution === undefined) continue;
    standards.set(run, (standards.get(run) ?? new Set()).add(solution));
  }
  view.each('readings', ({ run, solution }) => {
    const ofRun = standards.get(run);
    if (ofRun === undefined) {
      return { code: 'unknown run', field: 'run', expected: 'a run of the table calibration' };
    }
    if (common.has(solution) || ofRun.has(solution)) return null;
    const expected = `a digestion, a dilution, a standard solution of run ${run} in the table calibration, a solution of the table additions, or a check solution of the plan`;
    return { code: 'unknown solution', field: 'solution', expected };
  });
}
