import { analytesRead } from '../left-unused.js';
import type { StudyView } from './study-view.js';

/**
 * A digestion that no reading is of would drop out of every figure in silence, an inconvenient one as well: it is read, or an
 * exclusion says why it is not. In a routine run a sample without a reading has a result without value, which says so itself.
 */
export function checkDigestionsAreRead(view: StudyView): void {
  const { plan } = view.study;
  // A name that could not be read may be the one looked for.
  const canTell = (['readings', 'dilutions', 'additions', 'exclusions'] as const).every(
    (name) => view.isCompleteOrAbsent(name) && (view.table(name)?.broken.length ?? 0) === 0,
  );
  if (!canTell || plan === null || view.records('readings').length === 0) return;
  const read = analytesRead({ dilutions: view.records('dilutions'), readings: view.records('readings') });
  const bases = view.values('additions', 'base');
  const excluded = new Set(
    view
      .records('exclusions')
      .flatMap(({ table, rowKey }) => (table === 'digestions' ? [rowKey, rowKey.split('|')[0]!] : [])),
  );
  view.each('digestions', ({ digestion, kind }) => {
    if (read.has(digestion) || bases.has(digestion) || excluded.has(digestion)) return null;
    if (plan.routine !== undefined && kind === 'sample') return null;
    const expected =
      'a digestion that the table readings has, itself or a dilution of it, or an exclusion of it with the technical cause';
    return { code: 'not read', field: 'digestion', expected };
  });
}
