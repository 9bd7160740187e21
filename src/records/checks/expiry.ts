import { dateOf } from '../dates.js';
import type { StudyView } from './study-view.js';

/** Reference materials and standards are used before they expire. */
export function checkExpiry(view: StudyView): void {
  checkReferences(view);
  checkStandards(view);
}

interface Use {
  readonly day: string;
  readonly by: string;
}

/** Keeps the latest use of each material. */
function latest(uses: Iterable<readonly [string, Use]>): Map<string, Use> {
  const found = new Map<string, Use>();
  for (const [material, use] of uses) {
    const known = found.get(material);
    if (known === undefined || known.day < use.day) found.set(material, use);
  }
  return found;
}

function checkReferences(view: StudyView): void {
  const uses = latest(
    view
      .records('digestions')
      .map(({ sample, day, digestion }) => [sample, { day, by: `digestion ${digestion}` }] as const),
  );
  view.each('references', ({ material, expiry }) => {
    const use = uses.get(material);
    if (use === undefined || use.day <= expiry) return null;
    return { code: 'expired', field: 'expiry', expected: `${use.day} or later: used by ${use.by}` };
  });
}

/** A standard is used on the last day of each run whose calibration solutions it, or an intermediate of it, went into. */
function checkStandards(view: StudyView): void {
  const lastDays = new Map<string, string>();
  for (const { run, time } of view.records('readings')) {
    const day = dateOf(time);
    if ((lastDays.get(run) ?? '') < day) lastDays.set(run, day);
  }
  const parents = new Map(view.records('standards').map((each) => [each.name, each.preparedFrom]));
  const uses: (readonly [string, Use])[] = [];
  for (const { run, preparedFrom } of view.records('calibration')) {
    const day = lastDays.get(run);
    if (day === undefined) continue;
    const seen = new Set<string>();
    for (let name = preparedFrom; name !== '' && !seen.has(name); name = parents.get(name) ?? '') {
      seen.add(name);
      uses.push([name, { day, by: `run ${run}` }]);
    }
  }
  const last = latest(uses);
  view.each('standards', ({ name, expiry }) => {
    const use = last.get(name);
    if (use === undefined || use.day <= expiry) return null;
    return { code: 'expired', field: 'expiry', expected: `${use.day} or later: used by ${use.by}` };
  });
}
