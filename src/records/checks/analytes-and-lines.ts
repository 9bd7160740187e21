import type { StudyPlan } from '../study.js';
import type { CellProblem } from './cell-problem.js';
import type { StudyView } from './study-view.js';

/**
 * Every analyte is one of the plan, and every line one that the plan states for it. The internal-standard element may be
 * calibrated and read too (the check for a native amount).
 */
export function checkAnalytesAndLines(view: StudyView): void {
  const { plan } = view.study;
  if (plan === null) return;
  const lines = linesOf(plan);
  const { element, lineNm } = plan.internalStandard;
  const withInternalStandard = new Map([...lines, [element, [lineNm]]]);
  view.each('calibration', ({ analyte }) => analyteProblem(withInternalStandard, analyte));
  view.each('readings', ({ analyte, lineNm: line }) => lineProblem(withInternalStandard, analyte, line));
  view.each('interference', ({ analyte, lineNm: line, interferent }) => {
    if (lines.has(interferent)) return lineProblem(lines, analyte, line);
    const expected = `an analyte of the plan, as its mass fraction is needed: ${[...lines.keys()].join(', ')}`;
    return { code: 'unknown analyte', field: 'interferent', expected };
  });
  view.each('standards', ({ analyte }) => analyteProblem(withInternalStandard, analyte));
  view.each('references', ({ analyte }) => analyteProblem(lines, analyte));
  view.each('spikes', ({ analyte }) => analyteProblem(lines, analyte));
  view.each('homogeneity', ({ analyte }) => analyteProblem(lines, analyte));
  view.each('additions', ({ analyte }) => analyteProblem(lines, analyte));
  view.each('comparison', ({ analyte }) => analyteProblem(lines, analyte));
  view.each('history', ({ analyte }) => analyteProblem(lines, analyte));
  view.each('rounds', ({ analyte }) => analyteProblem(lines, analyte));
}

type Lines = ReadonlyMap<string, readonly number[]>;

function linesOf(plan: StudyPlan): Lines {
  return new Map(
    plan.analytes.map(({ analyte, lineNm, secondLineNm }) => [
      analyte,
      secondLineNm === undefined ? [lineNm] : [lineNm, secondLineNm],
    ]),
  );
}

function analyteProblem(lines: Lines, analyte: string): CellProblem<{ analyte: string }> | null {
  if (lines.has(analyte)) return null;
  const expected = `an analyte of the plan: ${[...lines.keys()].join(', ')}`;
  return { code: 'unknown analyte', field: 'analyte', expected };
}

function lineProblem(
  lines: Lines,
  analyte: string,
  lineNm: number,
): CellProblem<{ analyte: string; lineNm: number }> | null {
  const planned = lines.get(analyte);
  if (planned === undefined) return analyteProblem(lines, analyte);
  if (planned.includes(lineNm)) return null;
  const expected = `a line of ${analyte} in the plan: ${planned.join(' or ')}`;
  return { code: 'unknown line', field: 'lineNm', expected };
}
