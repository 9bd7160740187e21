import type { SolutionSignal } from '../../chain/solution-signal.js';
import { largestVariance } from '../../statistics/screening/cochran.js';
import type { DigestionResult, EvaluatedStudy } from '../evaluate-study.js';
import type { MeasuredSolution } from '../measured-solutions.js';
import { calibrationKey } from '../run-calibrations.js';
import { lineKey, modelledReading } from '../study-index.js';
import type { ResultFlag } from './routine-result.js';
import { readingOf } from './runs-of-measurement.js';

/** For all solutions of a line together: a run has some twenty lines, and a sound one is to be held once in fifty runs. */
const level = 0.001;

/**
 * Flags from the single readings behind one analyte of one digestion: fewer than the rule of the plan, or such that disagree, of
 * its solution and of the check solutions that its drift is taken from. A mean would hide both.
 */
export function readingFlags(run: EvaluatedStudy, result: DigestionResult): ResultFlag[] {
  const { analyte, signals } = result.observation;
  return signals
    .filter((signal) => signal.analyte === analyte)
    .flatMap((signal) => {
      const read = readingOf(run, signal);
      if (read === null) return [];
      return [
        ...fewerFlag(run, result.digestion, read),
        ...uncheckedFlag(run, result.digestion, signal),
        ...disagreeing(run, `${result.digestion}: its`, read),
        ...checksOf(run, signal).flatMap((check) =>
          disagreeing(run, `check solution at position ${check.position}: its`, check),
        ),
      ];
    });
}

function fewerFlag(
  { index }: EvaluatedStudy,
  digestion: string,
  { analyte, lineNm, ratios }: MeasuredSolution,
): ResultFlag[] {
  const { readings } = index.records.plan.resultRule;
  if (ratios.length >= readings) return [];
  const text = `${digestion}: ${ratios.length} of ${readings} readings of ${analyte} at ${lineNm} nm, fewer than the rule of the plan`;
  return [{ kind: 'fewer readings than planned', text, holds: true }];
}

/** A line beside the analyte's own on which no check solution was read; that of the own line is a control of the run. */
function uncheckedFlag(run: EvaluatedStudy, digestion: string, signal: SolutionSignal): ResultFlag[] {
  const { analyte, lineNm } = signal;
  if (lineNm === run.index.scopes.get(analyte)!.lineNm || checksOf(run, signal).length > 0) return [];
  const text = `${digestion}: ${run.index.records.plan.driftCheckSolution} was not read at ${lineNm} nm, so that the drift of ${analyte} there is not taken off`;
  return [{ kind: 'no check solution in the run', text, holds: true }];
}

/** The first check solution of the run, which drift is relative to, and the two that a solution lies between. */
function checksOf({ index }: EvaluatedStudy, { calibration, drift }: SolutionSignal): MeasuredSolution[] {
  const { run, analyte, lineNm } = calibration;
  const checks = index.checks.get(calibrationKey(run, analyte, lineNm)) ?? [];
  return [...new Set([0, ...drift.checks])].flatMap((at) => checks[at] ?? []);
}

function disagreeing(run: EvaluatedStudy, whose: string, read: MeasuredSolution): ResultFlag[] {
  const times = outlyingOf(run).get(read);
  if (times === undefined) return [];
  const { analyte, lineNm, ratios, readingStandardDeviation, meanRatio } = read;
  const percent = ((100 * readingStandardDeviation!) / Math.abs(meanRatio)).toPrecision(2);
  const text = `${whose} ${ratios.length} readings of ${analyte} at ${lineNm} nm scatter by ${percent} %, ${times.toPrecision(2)} times as much as those of the other solutions lead to expect (Cochran’s test of the line at ${100 * level} %)`;
  return [{ kind: 'readings disagree', text, holds: true }];
}

const outlyingByRun = new WeakMap<EvaluatedStudy, ReadonlyMap<MeasuredSolution, number>>();

/** Solutions whose readings disagree, each with its scatter ÷ that expected, worked out once a run. */
function outlyingOf(run: EvaluatedStudy): ReadonlyMap<MeasuredSolution, number> {
  const known = outlyingByRun.get(run);
  if (known !== undefined) return known;
  const found = new Map<MeasuredSolution, number>();
  for (const group of groupsOf(run)) {
    for (const [solution, times] of outlyingVariances(group)) found.set(solution, times);
  }
  outlyingByRun.set(run, found);
  return found;
}

/** The readings of one solution: their variance ÷ that of the plan's signal model. */
interface ReadingVariance {
  readonly solution: MeasuredSolution;
  readonly variance: number;
  readonly degreesOfFreedom: number;
}

/** Solutions alike: of all digestions but blanks by line, and the check solutions of a run by line. */
function groupsOf({ index }: EvaluatedStudy): Iterable<readonly ReadingVariance[]> {
  const { plan, dilutions } = index.records;
  const digestionOf = new Map(dilutions.map((d) => [d.dilution, d.digestion]));
  const groups = new Map<string, ReadingVariance[]>();
  for (const m of index.measured) {
    const { run, solution, analyte, lineNm, readingStandardDeviation, ratios } = m;
    const key = calibrationKey(run, analyte, lineNm);
    if (readingStandardDeviation === null || !index.calibrations.has(key)) continue;
    const row = index.digestions.get(digestionOf.get(solution) ?? solution);
    const isCheck = solution === plan.driftCheckSolution;
    if (!isCheck && (row === undefined || row.kind === 'blank')) continue;
    const name = isCheck ? `check ${key}` : lineKey(analyte, lineNm);
    const modelled = modelledReading(plan, index.scopes, index.calibrations, m);
    const variance = (readingStandardDeviation / modelled) ** 2;
    const own = { solution: m, variance, degreesOfFreedom: ratios.length - 1 };
    groups.set(name, [...(groups.get(name) ?? []), own]);
  }
  return groups.values();
}

/**
 * Variances too large for those of the others, one after the other: Cochran's test for solutions of different numbers of readings.
 *
 * @returns each solution with its standard deviation ÷ that of the ones left
 * @see ISO 5725-2:2019, 8.3.3 (clause from memory)
 */
function outlyingVariances(group: readonly ReadingVariance[]): [MeasuredSolution, number][] {
  const found: [MeasuredSolution, number][] = [];
  let rest = [...group];
  while (rest.length > 1 && rest.some(({ variance }) => variance > 0)) {
    const { largest, ratio, pValue } = largestVariance(
      rest.map(({ variance }) => variance),
      rest.map(({ degreesOfFreedom }) => degreesOfFreedom),
    );
    // Others that are all alike, each in itself, say nothing of what to expect.
    if (!Number.isFinite(ratio) || pValue > level) break;
    found.push([rest[largest]!.solution, Math.sqrt(ratio)]);
    rest = rest.filter((_, i) => i !== largest);
  }
  return found;
}
