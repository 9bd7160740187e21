import { dateOf } from '../dates.js';
import { quoteFound } from '../issue-list.js';
import { planFile } from '../study-folder.js';
import type { StudyView } from './study-view.js';

/** Aqueous solutions, from organic-rich ones to concentrated acid, g/mL. */
const lowestDensity = 0.7;
const highestDensity = 2;

/** A portion or flux this many times the nominal mass, or less than that share of it, is a slip of the pen. */
const widestRatio = 5;

/** Values that cannot be, each true to its form: densities, contents, times and masses. */
export function checkPossibleValues(view: StudyView): void {
  checkDensities(view);
  checkContents(view);
  checkReadAfterFusion(view);
  checkMasses(view);
}

function checkDensities(view: StudyView): void {
  const isPossible = (density: number | null | undefined) =>
    density == null || (density >= lowestDensity && density <= highestDensity);
  const expected = `a density of a solution in g/mL, ${lowestDensity} to ${highestDensity}`;
  view.each('digestions', ({ densityGPerML }) =>
    isPossible(densityGPerML) ? null : { code: 'density', field: 'densityGPerML', expected },
  );
  const { plan } = view.study;
  if (plan === null) return;
  const { solution } = plan.internalStandard;
  const dilution = plan.density?.dilutionGPerML;
  if (!isPossible(dilution)) view.refuseKey(planFile, 'density.dilutionGPerML', String(dilution), expected);
  if (!isPossible(solution?.densityGPerML))
    view.refuseKey(
      planFile,
      'internalStandard.solution.densityGPerML',
      String(solution!.densityGPerML),
      expected,
    );
}

/** Nothing holds more of anything than it weighs. */
function checkContents(view: StudyView): void {
  const whole = { 'g/100 g': 100, 'mg/kg': 1e6 } as const;
  const problem = ({ value, unit }: { readonly value: number; readonly unit: keyof typeof whole }) =>
    value <= whole[unit]
      ? null
      : ({
          code: 'content',
          field: 'value',
          expected: `at most ${whole[unit]} ${unit}, the whole of the sample`,
        } as const);
  view.each('references', problem);
  view.each('comparison', problem);
}

function checkReadAfterFusion(view: StudyView): void {
  if (view.records('readings').length === 0) return;
  const days = new Map<string, { readonly digestion: string; readonly day: string }>();
  for (const { digestion, day } of view.records('digestions')) days.set(digestion, { digestion, day });
  for (const { dilution, digestion } of view.records('dilutions')) {
    const fused = days.get(digestion);
    if (fused !== undefined) days.set(dilution, fused);
  }
  view.each('readings', ({ solution, time }) => {
    const fused = days.get(solution);
    if (fused === undefined || dateOf(time) >= fused.day) return null;
    const expected = `${fused.day} or later, as digestion ${fused.digestion} was fused that day`;
    return { code: 'read before fusion', field: 'time', expected };
  });
}

function checkMasses(view: StudyView): void {
  const { plan } = view.study;
  if (plan === null) return;
  const { portionG, fluxG } = plan.nominal;
  const isAbout = (found: number, nominal: number) =>
    found <= nominal * widestRatio && found >= nominal / widestRatio;
  const wording = (what: string, nominal: number) =>
    `a ${what} about the nominal ${nominal} g of the plan, within a factor of ${widestRatio}`;
  view.each('digestions', ({ kind, crucibleG, crucibleWithPortionG }) => {
    const portion = crucibleWithPortionG - crucibleG;
    // No portion at all has a problem of its own.
    if (kind === 'blank' || portion <= 0 || isAbout(portion, portionG)) return null;
    return {
      code: 'nominal',
      field: 'crucibleWithPortionG',
      found: `${quoteFound(crucibleWithPortionG)}, a portion of ${Number(portion.toPrecision(4))} g`,
      expected: wording('portion', portionG),
    };
  });
  view.each('digestions', (record) =>
    isAbout(record.fluxG, fluxG)
      ? null
      : { code: 'nominal', field: 'fluxG', expected: wording('mass of flux', fluxG) },
  );
}
