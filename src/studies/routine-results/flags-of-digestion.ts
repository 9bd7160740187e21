import { contentMeasured } from '../../chain/emission.js';
import { resultValue } from '../../chain/result-model.js';
import { formatSignificant } from '../../quantities/rounding.js';
import type { DigestionResult, EvaluatedStudy } from '../evaluate-study.js';
import { type FusionsOfCharge, fusionLosses } from '../fusion-losses.js';
import { internalStandardKey, internalStandardStudy } from '../matrix/acceptance-study.js';
import { criterionFor } from '../matrix/matrix-context.js';
import { observe } from '../observations.js';
import { lookFlags } from './digestion-flags.js';
import { readingFlags } from './reading-flags.js';
import type { ResultFlag } from './routine-result.js';
import { readingOf } from './runs-of-measurement.js';

/** Flags of one analyte of one digestion from its records and readings. */
export function flagsOfDigestion(run: EvaluatedStudy, result: DigestionResult): ResultFlag[] {
  return [
    ...recordFlags(run, result),
    ...fusionFlag(run, result),
    ...rangeFlag(result),
    ...lineFlag(run, result),
    ...readingFlags(run, result),
    ...internalStandardFlag(run, result),
  ];
}

function recordFlags(run: EvaluatedStudy, { digestion }: DigestionResult): ResultFlag[] {
  const row = run.index.digestions.get(digestion)!;
  if (row.densityGPerML !== null) return lookFlags(row);
  // One that a content in mg/L needs leaves no result, and so no flag here.
  const text = `${digestion}: no density of the solution; buoyancy was taken as for 1.000 g/mL`;
  return [...lookFlags(row), { kind: 'missing density', text, holds: false }];
}

/**
 * A charge that lost more or less than the others until its melt was weighed: spitting cannot be ruled out. Nor can it where most
 * melts of the run were weighed and this one was not (common practice, no source).
 */
function fusionFlag(run: EvaluatedStudy, { digestion }: DigestionResult): ResultFlag[] {
  if (run.index.digestions.get(digestion)!.crucibleWithMeltG === null) return unweighedFlag(run, digestion);
  const group = fusionsOf(run).find(({ outlying }) => outlying?.includes(digestion));
  if (group === undefined) return [];
  const { lossPercent } = group.losses.find((l) => l.digestion === digestion)!;
  const shown = (percent: number) => percent.toFixed(2).replace('-', '−');
  const text = `${digestion}: ${shown(lossPercent)} % of portion and flux lost in fusion, the median of ${group.losses.length} fusions is ${shown(group.medianPercent)} %`;
  return [{ kind: 'loss in fusion outlying', text, holds: true }];
}

function unweighedFlag(run: EvaluatedStudy, digestion: string): ResultFlag[] {
  const weighed = fusionsOf(run).reduce((sum, { losses }) => sum + losses.length, 0);
  const { size } = run.index.digestions;
  // A few melts weighed here and there are no rule of the run.
  if (2 * weighed <= size) return [];
  const text = `${digestion}: its melt was not weighed, those of ${weighed} among ${size} digestions were; what it lost in fusion is not known`;
  return [{ kind: 'melt not weighed', text, holds: true }];
}

const fusionsByRun = new WeakMap<EvaluatedStudy, readonly FusionsOfCharge[]>();

/** Mass balances of the fusions of a run, worked out once. */
function fusionsOf(run: EvaluatedStudy): readonly FusionsOfCharge[] {
  const known = fusionsByRun.get(run);
  if (known !== undefined) return known;
  const found = fusionLosses(run.index.records);
  fusionsByRun.set(run, found);
  return found;
}

/** Each line that the result comes from, for itself, and those of what it is corrected for. */
function rangeFlag({ digestion, observation }: DigestionResult): ResultFlag[] {
  const { signals, solution, dilutions, basis } = observation;
  const lines = signals.filter(({ analyte }) => analyte === observation.analyte);
  return signals.flatMap((signal): ResultFlag[] => {
    const { calibration, lineNm } = signal;
    const found = contentMeasured(signal, { solution, dilutions, evaporation: basis.evaporation });
    const contents = calibration.points.map((p) => p.content);
    const [lowest, highest] = [Math.min(...contents), Math.max(...contents)];
    const isOwn = signal.analyte === observation.analyte;
    // A line that starts at zero has no lower end; of what a result is corrected by, little is little either way.
    const isBelow = isOwn && lowest > 0 && found < lowest;
    if (found <= highest && !isBelow) return [];
    const what = isOwn ? '' : ` ${signal.analyte}`;
    const where = isOwn && lines.length === 1 ? '' : ` at ${lineNm} nm`;
    const why = isOwn ? '' : `; ${observation.analyte} is corrected by it`;
    const text = `${digestion}: ${found.toPrecision(4)} ${calibration.unit}${what} in the solution measured${where}, ${isBelow ? `below the lowest calibration solution of ${lowest}` : `above the highest calibration solution of ${highest}`} ${calibration.unit}${why}`;
    return [{ kind: 'beyond the calibrated range', text, holds: true }];
  });
}

/** A second line that the plan asks for confirms the own one, contradicts it, or is not there to do either. */
function lineFlag(run: EvaluatedStudy, result: DigestionResult): ResultFlag[] {
  const { plan } = run.index.records;
  const { analyte, digestion, value } = result;
  const { lineNm, secondLineNm, lowestReported, unit } = run.index.scopes.get(analyte)!;
  const criterion = criterionFor(plan, 'second line', analyte, '*');
  if (secondLineNm === undefined || criterion === null || value === null) return [];
  const on = (line: number) =>
    observe(run.index, digestion, analyte, run.blanks.get(analyte)!.blank, { lineNm: line });
  const other = on(secondLineNm);
  if (other === null) {
    const text = `${digestion}: no result at ${secondLineNm} nm to hold that at ${lineNm} nm against`;
    return [{ kind: 'lines not compared', text, holds: true }];
  }
  // Where the result is made of both lines, each stands for itself here.
  const first = result.observation.lines === undefined ? value : resultValue(on(lineNm)!);
  const second = resultValue(other);
  if (first <= 0) {
    // Relative to nothing; a content that would be reported is none of that.
    if (second < lowestReported) return [];
    const text = `${digestion}: ${secondLineNm} nm finds ${formatSignificant(second, 3)} ${unit} where ${lineNm} nm finds none`;
    return [{ kind: 'lines disagree', text, holds: true }];
  }
  const difference = 100 * (second / first - 1);
  if (Math.abs(difference) <= criterion.limit) return [];
  const text = `${digestion}: ${secondLineNm} nm differs from ${lineNm} nm by ${difference.toFixed(1)} %, allowed ±${criterion.limit} %`;
  return [{ kind: 'lines disagree', text, holds: true }];
}

/** By the solutions of the analyte's own lines, at the places where they were read. */
function internalStandardFlag(
  run: EvaluatedStudy,
  { digestion, observation }: DigestionResult,
): ResultFlag[] {
  const failing = internalStandardOf(run);
  const own = observation.signals.filter(({ analyte }) => analyte === observation.analyte);
  const fails = own.some((signal) => {
    const read = readingOf(run, signal);
    return read !== null && failing.has(internalStandardKey(read));
  });
  if (!fails) return [];
  const text = `${digestion}: recovery of the internal standard outside its limits`;
  return [{ kind: 'internal standard outside its limits', text, holds: true }];
}

const failingByRun = new WeakMap<EvaluatedStudy, ReadonlySet<string>>();

/** Solutions whose internal standard fails, worked out once a run. */
function internalStandardOf(run: EvaluatedStudy): ReadonlySet<string> {
  const known = failingByRun.get(run);
  if (known !== undefined) return known;
  const failing = new Set(internalStandardStudy(run)?.failing.map((f) => f.key));
  failingByRun.set(run, failing);
  return failing;
}
