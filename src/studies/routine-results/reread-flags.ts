import { resultValue } from '../../chain/result-model.js';
import { criticalRangeFactor } from '../../statistics/distributions/normal-range.js';
import type { DigestionResult, EvaluatedStudy } from '../evaluate-study.js';
import type { MeasuredSolution } from '../measured-solutions.js';
import { observe } from '../observations.js';
import type { ScatterOfResults } from '../result-covariance/scatter-of-results.js';
import { type StudyIndex, solutionKey } from '../study-index.js';
import type { ResultFlag } from './routine-result.js';
import { readingOf } from './runs-of-measurement.js';

/**
 * A digestion that was read more often than once: its result comes from the first reading, and what every later one finds is told
 * beside it. The result is held where the two lie farther apart than two digestions may, in several runs than two of two days.
 *
 * @param lowest lowest content to be reported: below it a difference counts relative to that
 * @see ISO 5725-6:1994, 4.1.4 (critical range; clause from memory)
 */
export function rereadFlags(
  run: EvaluatedStudy,
  scatter: ScatterOfResults,
  result: DigestionResult,
  lowest: number,
): ResultFlag[] {
  const { digestion, analyte, value } = result;
  const at = scatter.analytes.indexOf(analyte);
  const used = readingOf(run, result.observation.signals[0]!);
  if (value === null || used === null || at < 0) return [];
  return laterReadings(run.index, digestion, used).map((again): ResultFlag => {
    const where = `${digestion}: read again in run ${again.run}, position ${again.position}`;
    const found = valueFrom(run, digestion, again);
    if (found === null)
      return { kind: 'read again', text: `${where}, without a result of ${analyte}`, holds: true };
    const day = again.run === used.run ? 0 : Math.max(0, scatter.days[at]![at]!);
    const allowed = 100 * criticalRangeFactor(2) * Math.sqrt(scatter.digestions[at]![at]! + day);
    const difference = (100 * (found - value)) / Math.max(Math.abs((found + value) / 2), lowest);
    const shown = difference.toFixed(1).replace('-', '−');
    const text = `${where}: ${analyte} differs by ${shown} %, allowed ±${allowed.toFixed(1)} % (critical range, 95 %); the first reading gives the result`;
    return { kind: 'read again', text, holds: !(Math.abs(difference) <= allowed) };
  });
}

/** Other readings on the same line of the digestion itself, or of its dilutions, whichever the result comes from. */
function laterReadings(index: StudyIndex, digestion: string, used: MeasuredSolution): MeasuredSolution[] {
  const dilutions = (index.dilutionsOf.get(digestion) ?? []).map((d) => d.dilution);
  const alike = used.solution === digestion ? [digestion] : dilutions;
  return alike
    .flatMap((solution) => index.bySolution.get(solutionKey(solution, used.analyte, used.lineNm)) ?? [])
    .filter((m) => m !== used);
}

/** The result as if this had been the only reading. */
function valueFrom(run: EvaluatedStudy, digestion: string, read: MeasuredSolution): number | null {
  const { analyte, lineNm } = read;
  const { index } = run;
  const bySolution = new Map(index.bySolution);
  for (const solution of [digestion, ...(index.dilutionsOf.get(digestion) ?? []).map((d) => d.dilution)])
    bySolution.set(solutionKey(solution, analyte, lineNm), solution === read.solution ? [read] : []);
  const { blank } = run.blanks.get(analyte)!;
  const observation = observe({ ...index, bySolution }, digestion, analyte, blank);
  return observation === null ? null : resultValue(observation);
}
