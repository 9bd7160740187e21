import { quoteFound } from '../issue-list.js';
import type { StudyView } from './study-view.js';

/** Samples and materials that a table speaks of are digested here, under the same name. */
export function checkNamesOfSamples(view: StudyView): void {
  if (!view.isComplete('digestions')) return;
  const samples = view.values('digestions', 'sample');
  const expected = 'a sample of the table digestions';
  const problem = (name: string) => ({ code: 'unknown sample', found: quoteFound(name), expected }) as const;
  view.each('moisture', ({ sample }) =>
    samples.has(sample) ? null : { ...problem(sample), field: 'sample' },
  );
  view.each('homogeneity', ({ sample }) =>
    samples.has(sample) ? null : { ...problem(sample), field: 'sample' },
  );
  view.each('references', ({ material }) =>
    samples.has(material) ? null : { ...problem(material), field: 'material' },
  );
}

/** Standard solutions were read in their run: a misspelt one would else be left out of its calibration in silence. */
export function checkSolutionsAreRead(view: StudyView): void {
  if (!view.isComplete('readings')) return;
  const runs = new Map<string, Set<string>>();
  for (const { run, solution } of view.withBroken('readings')) {
    // A name that could not be read may be the one looked for.
    if (run === undefined || solution === undefined) return;
    const own = runs.get(run) ?? new Set();
    own.add(solution);
    runs.set(run, own);
  }
  view.each('calibration', ({ run, solution }) => {
    const own = runs.get(run);
    if (own === undefined)
      return { code: 'unknown run', field: 'run', expected: 'a run of the table readings' };
    if (own.has(solution)) return null;
    const expected = `a solution that the table readings has in run ${run}`;
    return { code: 'not read', field: 'solution', expected };
  });
}
