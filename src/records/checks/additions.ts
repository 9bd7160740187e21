import { quoteFound } from '../issue-list.js';
import type { StudyView } from './study-view.js';

/** Standard additions hold the solution of a digestion or dilution; results of another method are of samples digested here. */
export function checkAdditionsAndComparison(view: StudyView): void {
  if (!view.isComplete('digestions')) return;
  const digestions = view.values('digestions', 'digestion');
  const samples = view.values('digestions', 'sample');
  view.each('comparison', ({ sample }) =>
    samples.has(sample)
      ? null
      : {
          code: 'unknown sample',
          field: 'sample',
          found: quoteFound(sample),
          expected: 'a sample of the table digestions',
        },
  );
  if (!view.isCompleteOrAbsent('dilutions')) return;
  const dilutions = view.values('dilutions', 'dilution');
  view.each('additions', ({ solution, base }) => {
    if (digestions.has(solution) || dilutions.has(solution)) {
      return {
        code: 'name taken',
        field: 'solution',
        expected: 'a name that no digestion or dilution bears',
      };
    }
    if (digestions.has(base) || dilutions.has(base)) return null;
    return {
      code: 'unknown solution',
      field: 'base',
      expected: 'a digestion or dilution of the tables digestions and dilutions',
    };
  });
}
