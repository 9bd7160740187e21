import type { SolutionSignal } from '../../chain/solution-signal.js';
import type { EvaluatedStudy } from '../evaluate-study.js';
import type { MeasuredSolution } from '../measured-solutions.js';
import { solutionKey } from '../study-index.js';

/** Runs of measurement of a study, in the order of the readings. */
export function runsOf({ index }: EvaluatedStudy): string[] {
  return [...new Set(index.measured.map((m) => m.run))];
}

/** Which run a control is of, where there are several; nothing where there is one. */
export function ofRun(study: EvaluatedStudy, name: string): string {
  return runsOf(study).length > 1 ? `, run ${name}` : '';
}

/** The solution that a signal was read from, at its place of its run. */
export function readingOf({ index }: EvaluatedStudy, signal: SolutionSignal): MeasuredSolution | null {
  const { solution, analyte, lineNm, calibration } = signal;
  const read = index.bySolution.get(solutionKey(solution, analyte, lineNm)) ?? [];
  return read.find((m) => m.run === calibration.run) ?? null;
}
