import { dateOf } from '../dates.js';
import { planSolutions } from './plan-solutions.js';
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

function checkStandards(view: StudyView): void {
  const lastDays = new Map<string, string>();
  const read = new Map<string, Set<string>>();
  const named = new Set(view.study.plan === null ? [] : planSolutions(view.study.plan));
  for (const { run, time, solution } of view.records('readings')) {
    const day = dateOf(time);
    if ((lastDays.get(run) ?? '') < day) lastDays.set(run, day);
    if (named.has(solution)) read.set(run, (read.get(run) ?? new Set()).add(solution));
  }
  checkStandardsOfRuns(view, lastDays, read);
}

/**
 * A standard is used on the last day of each run whose calibration solutions it, or an intermediate of it, went into; so is the
 * check solution, or another that the plan names, in each run that reads it.
 *
 * @param lastDays last day by run; other runs use nothing
 * @param read solutions of the plan that were read, by run
 */
export function checkStandardsOfRuns(
  view: StudyView,
  lastDays: ReadonlyMap<string, string>,
  read: ReadonlyMap<string, ReadonlySet<string>>,
): void {
  if (lastDays.size === 0) return;
  const uses: (readonly [string, Use])[] = [];
  for (const [run, names] of standardsByRun(view, read)) {
    const day = lastDays.get(run);
    if (day === undefined) continue;
    for (const name of names) uses.push([name, { day, by: `run ${run}` }]);
  }
  const last = latest(uses);
  view.each('standards', ({ name, expiry }) => {
    const use = last.get(name);
    if (use === undefined || use.day <= expiry) return null;
    return { code: 'expired', field: 'expiry', expected: `${use.day} or later: used by ${use.by}` };
  });
}

/**
 * Day on which the first of the standards in the calibration solutions of a run expires, by run.
 *
 * @param read solutions of the plan that count as used too, by run
 */
export function firstExpiryByRun(
  view: StudyView,
  read: ReadonlyMap<string, ReadonlySet<string>> = new Map(),
): Map<string, string> {
  const expiries = new Map<string, string>();
  for (const { name, expiry } of view.records('standards')) {
    const known = expiries.get(name);
    if (known === undefined || expiry < known) expiries.set(name, expiry);
  }
  const first = new Map<string, string>();
  for (const [run, names] of standardsByRun(view, read)) {
    const own = [...names].flatMap((name) => expiries.get(name) ?? []).sort();
    if (own[0] !== undefined) first.set(run, own[0]);
  }
  return first;
}

/** Names of all standards in the calibration solutions of each run and in what else was read, with those they were prepared from. */
function standardsByRun(
  view: StudyView,
  read: ReadonlyMap<string, ReadonlySet<string>>,
): Map<string, Set<string>> {
  const parents = new Map(view.records('standards').map((each) => [each.name, each.preparedFrom]));
  const used = new Map<string, Set<string>>();
  const use = (run: string, standard: string) => {
    const names = used.get(run) ?? new Set<string>();
    used.set(run, names);
    // A name that is there has its parents with it; a circle of standards ends where it began.
    for (let name = standard; name !== '' && !names.has(name); name = parents.get(name) ?? '') {
      names.add(name);
    }
  };
  for (const { run, preparedFrom } of view.records('calibration')) use(run, preparedFrom);
  for (const [run, solutions] of read) for (const solution of solutions) use(run, solution);
  return used;
}
