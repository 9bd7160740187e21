import type { StudyView } from './study-view.js';

/** Each standard leads back to a stock, in steps that exist, without a circle; each calibration solution to a standard. */
export function checkStandardsChain(view: StudyView): void {
  if (!view.isComplete('standards')) return;
  const parents = new Map<string, string>();
  for (const { name, analyte, preparedFrom } of view.withBroken('standards')) {
    if (name === undefined || analyte === undefined) continue;
    parents.set(keyOf(name, analyte), preparedFrom ?? '');
  }
  view.each('standards', ({ name, analyte, preparedFrom }) => {
    if (preparedFrom === '') return null;
    if (!parents.has(keyOf(preparedFrom, analyte))) {
      return { code: 'unknown standard', field: 'preparedFrom', expected: unknownWording(analyte) };
    }
    if (!leadsBackToItself(name, analyte, parents)) return null;
    const expected = 'a chain that ends at a stock: this one comes back to where it began';
    return { code: 'circle', field: 'preparedFrom', expected };
  });
  view.each('calibration', ({ preparedFrom, analyte }) =>
    preparedFrom === '' || parents.has(keyOf(preparedFrom, analyte))
      ? null
      : { code: 'unknown standard', field: 'preparedFrom', expected: unknownWording(analyte) },
  );
}

function unknownWording(analyte: string): string {
  return `a name in the table standards that has a row for ${analyte}`;
}

function keyOf(name: string, analyte: string): string {
  return `${name}|${analyte}`;
}

function leadsBackToItself(name: string, analyte: string, parents: ReadonlyMap<string, string>): boolean {
  const seen = new Set<string>();
  for (let at = name; at !== ''; at = parents.get(keyOf(at, analyte)) ?? '') {
    if (seen.has(at)) return at === name;
    seen.add(at);
  }
  return false;
}
