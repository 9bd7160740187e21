import type { StudyView } from './study-view.js';

/** What a digestion is of: blanks bear the names of the plan, reference materials have certified values. */
export function checkSamples(view: StudyView): void {
  const { plan } = view.study;
  const materials = view.values('references', 'material');
  const hasReferences = view.isComplete('references');
  view.each('digestions', ({ kind, sample }) => {
    if (kind === 'blank' && plan !== null) {
      const { procedure, memory } = plan.blanks;
      if (sample === procedure || sample === memory) return null;
      return {
        code: 'blank',
        field: 'sample',
        expected: `"${procedure}" or "${memory}", as the plan names blanks`,
      };
    }
    if (kind !== 'reference' || !hasReferences || materials.has(sample)) return null;
    return { code: 'unknown material', field: 'sample', expected: 'a material of the table references' };
  });
  if (plan === null) return;
  if (plan.routine === undefined) {
    view.each('digestions', ({ vesselEmptyG }) =>
      vesselEmptyG !== null
        ? null
        : {
            code: 'tare',
            field: 'vesselEmptyG',
            found: 'an empty cell',
            expected: 'a number above 0: only a routine run goes on without it',
          },
    );
  }
  const isByMass = plan.calibration.basis === 'mg/kg';
  view.each('calibration', ({ massFractionMgPerKg, concentrationMgPerL }) => {
    if ((isByMass ? massFractionMgPerKg : concentrationMgPerL) !== null) return null;
    const field = isByMass ? 'massFractionMgPerKg' : 'concentrationMgPerL';
    const expected = `a content, as the plan calibrates in ${plan.calibration.basis}`;
    return { code: 'content', field, found: 'an empty cell', expected };
  });
}
