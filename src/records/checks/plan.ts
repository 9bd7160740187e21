import { quoteFound } from '../issue-list.js';
import type { Refuse } from '../json/shape.js';
import type { StudyPlan } from '../study.js';
import { planFile } from '../study-folder.js';
import { checkCriteria } from './criteria.js';
import { checkStatedInputs } from './stated-inputs.js';
import type { StudyView } from './study-view.js';

/** The plan in itself: names used once, limits in order, digestions that exist. */
export function checkPlan(view: StudyView): void {
  const { plan } = view.study;
  if (plan === null) return;
  const refuse = (path: string, found: string, expected: string) =>
    view.refuseKey(planFile, path, found, expected);
  checkAnalytes(plan, refuse);
  checkLevelsAndLimits(plan, refuse);
  checkPeople(plan, refuse);
  checkStateOfPortions(plan, refuse);
  checkCriteria(view, plan, refuse);
  checkStatedInputs(plan, refuse);
  checkDigestions(view, plan, refuse);
  checkNamedSolutions(view, plan, refuse);
  checkRecoveries(view, plan, refuse);
}

/** What "ignited" took as given in older plans was never stated: it decides by how much contents differ. */
function checkStateOfPortions({ basis, portionsWeighed }: StudyPlan, refuse: Refuse): void {
  if (basis !== 'ignited' || portionsWeighed !== undefined) return;
  refuse(
    'portionsWeighed',
    'no such key',
    'as received, dry or ignited, as the plan reports on the basis ignited',
  );
}

function checkPeople({ planOwner, people }: StudyPlan, refuse: Refuse): void {
  const names = people.map(({ name }) => name);
  if (names.includes(planOwner)) return;
  const expected =
    names.length === 0 ? 'a name that stands in people' : `one of the people: ${names.join(', ')}`;
  refuse('planOwner', quoteFound(planOwner), expected);
}

function checkAnalytes(plan: StudyPlan, refuse: Refuse): void {
  const { element } = plan.internalStandard;
  const seen = new Set<string>();
  plan.analytes.forEach(({ analyte, oxide, lineNm, secondLineNm, secondLineShare }, i) => {
    const path = `analytes[${i}]`;
    if (seen.has(analyte)) refuse(`${path}.analyte`, quoteFound(analyte), 'each analyte once');
    seen.add(analyte);
    if (analyte === element)
      refuse(`${path}.analyte`, quoteFound(analyte), 'another element than the internal standard');
    if (oxide !== undefined && !new RegExp(`^${analyte}\\d*O\\d*$`).test(oxide)) {
      refuse(`${path}.oxide`, quoteFound(oxide), `an oxide of ${analyte}`);
    }
    if (secondLineNm === lineNm) refuse(`${path}.secondLineNm`, String(secondLineNm), 'another line');
    if (secondLineShare === undefined) return;
    const expected = 'a share below 1, and a secondLineNm that has it';
    if (secondLineShare === 1) refuse(`${path}.secondLineShare`, '1', expected);
    if (secondLineNm === undefined) refuse(`${path}.secondLineShare`, 'no secondLineNm', expected);
  });
  const known = [...seen, '*'];
  plan.criteria.forEach(({ analyte }, i) => {
    if (known.includes(analyte)) return;
    refuse(`criteria[${i}].analyte`, quoteFound(analyte), `one of: ${known.join(', ')}`);
  });
  if (plan.ruggedness !== undefined && !seen.has(plan.ruggedness.analyte)) {
    const expected = `one of: ${[...seen].join(', ')}`;
    refuse('ruggedness.analyte', quoteFound(plan.ruggedness.analyte), expected);
  }
  plan.planning?.expectations.forEach(({ analyte }, i) => {
    if (seen.has(analyte)) return;
    refuse(`planning.expectations[${i}].analyte`, quoteFound(analyte), `one of: ${[...seen].join(', ')}`);
  });
  plan.routine?.specifications.forEach(({ analyte, lower, upper, unit }, i) => {
    const path = `routine.specifications[${i}]`;
    const scope = plan.analytes.find((a) => a.analyte === analyte);
    if (scope === undefined)
      refuse(`${path}.analyte`, quoteFound(analyte), `one of: ${[...seen].join(', ')}`);
    else if (scope.unit !== unit)
      refuse(`${path}.unit`, quoteFound(unit), `the unit of ${analyte}, "${scope.unit}"`);
    if (lower === null && upper === null) refuse(path, 'no limit', 'a lower or an upper limit');
    if (lower !== null && upper !== null && lower >= upper)
      refuse(`${path}.upper`, String(upper), `a number above the lower limit ${lower}`);
  });
  plan.statedInputs.forEach(({ analyte }, i) => {
    if (known.includes(analyte)) return;
    refuse(`statedInputs[${i}].analyte`, quoteFound(analyte), `one of: ${known.join(', ')}`);
  });
}

function checkLevelsAndLimits(plan: StudyPlan, refuse: Refuse): void {
  const { recoveryLow, recoveryHigh } = plan.internalStandard;
  if (recoveryHigh <= recoveryLow) {
    refuse('internalStandard.recoveryHigh', String(recoveryHigh), `a number above ${recoveryLow}`);
  }
  const levels = new Set<string>();
  plan.levels.forEach(({ level }, i) => {
    if (levels.has(level)) refuse(`levels[${i}].level`, quoteFound(level), 'each level once');
    levels.add(level);
  });
  plan.planning?.expectations.forEach(({ level }, i) => {
    if (level === '*' || levels.has(level)) return;
    const expected = `one of: ${[...levels, '*'].join(', ')}`;
    refuse(`planning.expectations[${i}].level`, quoteFound(level), expected);
  });
}

function checkDigestions(view: StudyView, plan: StudyPlan, refuse: Refuse): void {
  if (!view.isComplete('digestions')) return;
  const digestions = view.values('digestions', 'digestion');
  const check = (path: string, names: readonly string[]) =>
    names.forEach((name, i) => {
      if (!digestions.has(name))
        refuse(`${path}[${i}]`, quoteFound(name), 'a digestion of the table digestions');
    });
  check('stability.digestions', plan.stability?.digestions ?? []);
  check('nativeCheckDigestions', plan.nativeCheckDigestions);
  const samples = view.values('digestions', 'sample');
  plan.levels.forEach(({ sample }, i) => {
    if (!samples.has(sample))
      refuse(`levels[${i}].sample`, quoteFound(sample), 'a sample of the table digestions');
  });
  checkBlankLine(view, plan, refuse);
}

/** A line through the blanks needs three of them and different masses of flux. */
function checkBlankLine(view: StudyView, { blank, blanks }: StudyPlan, refuse: Refuse): void {
  if (blank.scaling !== 'per flux mass and digestion') return;
  const rows = view
    .withBroken('digestions')
    .filter((d) => d.kind === 'blank' && d.sample === blanks.procedure);
  const fluxes = new Set(rows.map((d) => d.fluxG));
  if (rows.length >= 3 && fluxes.size >= 2) return;
  refuse(
    'blank.scaling',
    `"${blank.scaling}" with ${rows.length} procedure blanks of ${fluxes.size} mass(es) of flux`,
    'at least 3 procedure blanks of different masses of flux, or another scaling',
  );
}

/** Names of the plan that other tables must hold before anything can be worked out from them. */
function checkNamedSolutions(view: StudyView, plan: StudyPlan, refuse: Refuse): void {
  const { secondSource, detection } = plan;
  if (
    secondSource !== undefined &&
    view.isComplete('standards') &&
    !view.values('standards', 'name').has(secondSource.solution)
  ) {
    refuse('secondSource.solution', quoteFound(secondSource.solution), 'a name in the table standards');
  }
  const sample = detection?.lowLevelSample;
  if (
    sample !== undefined &&
    view.isComplete('digestions') &&
    !view.values('digestions', 'sample').has(sample)
  ) {
    refuse('detection.lowLevelSample', quoteFound(sample), 'a sample of the table digestions');
  }
}

/** Recoveries: known analytes once, materials that are certified for them, additions that were made. A run takes them from elsewhere. */
function checkRecoveries(view: StudyView, plan: StudyPlan, refuse: Refuse): void {
  const analytes = plan.analytes.map((a) => a.analyte);
  const seen = new Set<string>();
  plan.recovery?.forEach(({ analyte, from, materials }, i) => {
    const path = `recovery[${i}]`;
    if (!analytes.includes(analyte))
      refuse(`${path}.analyte`, quoteFound(analyte), `one of: ${analytes.join(', ')}`);
    if (seen.has(analyte)) refuse(`${path}.analyte`, quoteFound(analyte), 'each analyte once');
    seen.add(analyte);
    if (from === 'reference materials' && materials === undefined)
      refuse(`${path}.materials`, 'no such key', 'the materials whose results give the recovery');
    if (from !== 'reference materials' && materials !== undefined)
      refuse(`${path}.materials`, materials.join(', '), `no such key, as the recovery is from ${from}`);
    if (plan.routine !== undefined) return;
    materials?.forEach((material, j) => {
      const certified = view
        .records('references')
        .some((r) => r.material === material && r.analyte === analyte);
      if (view.isCompleteOrAbsent('references') && !certified)
        refuse(
          `${path}.materials[${j}]`,
          quoteFound(material),
          `a material that the table references certifies for ${analyte}`,
        );
    });
    const added = view.records('spikes').some((s) => s.analyte === analyte && s.stage === 'before fusion');
    if (from === 'additions before fusion' && view.isCompleteOrAbsent('spikes') && !added)
      refuse(`${path}.from`, quoteFound(from), `additions of ${analyte} before fusion in the table spikes`);
  });
}
