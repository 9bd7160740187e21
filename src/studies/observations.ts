import type { Blank } from '../chain/blank.js';
import type { Dilution } from '../chain/dilution.js';
import type { InterferenceCoefficient } from '../chain/interference.js';
import type { LineCombination } from '../chain/line-combination.js';
import type { SolidBasis } from '../chain/mass-fraction.js';
import type { StatedFactor } from '../chain/model-fragment.js';
import type { ResultObservation } from '../chain/result-model.js';
import type { SolutionSignal } from '../chain/solution-signal.js';
import { InputError } from '../errors.js';
import { oxideFactor } from '../quantities/oxide.js';
import type { AnalyteScope } from '../records/study.js';
import type { DigestionRecord } from '../records/tables/digestions.js';
import { driftOfRun } from './drift-of-run.js';
import { lossesOfPortion } from './losses-of-portion.js';
import type { MeasuredSolution } from './measured-solutions.js';
import { densityMeasurement, dilutionOf, lacksDensity, modeInputs } from './measurement-modes.js';
import { calibrationKey } from './run-calibrations.js';
import { balanceOf, stated } from './stated-inputs.js';
import { stockOf } from './stock-of-calibration.js';
import { readingUncertainty, type StudyIndex, solutionKey } from './study-index.js';

export { stated } from './stated-inputs.js';

/** Which reading of a digestion's solution, or of its dilutions, an observation uses, and on which line. */
export interface ObservationChoice {
  /** Absent: the analyte's own line. */
  readonly lineNm?: number;
  /** Absent: the run of the first reading. */
  readonly run?: string;
}

/**
 * Everything the result of one analyte of one digestion rests on.
 *
 * @returns null where the digestion's solution was not read on that line, or nowhere on that of an interferent; in a routine run
 *   also where the density is missing that brings such a reading to mass
 * @throws InputError an unknown digestion, balance or standard; a read solution without calibration
 */
export function observe(
  index: StudyIndex,
  digestion: string,
  analyte: string,
  blank: Blank | null,
  choice: ObservationChoice = {},
): ResultObservation | null {
  const row = index.digestions.get(digestion);
  const scope = index.scopes.get(analyte);
  if (row === undefined)
    throw new InputError(`digestion ${digestion}: expected a row of the digestions table`);
  if (scope === undefined) throw new InputError(`analyte ${analyte}: expected one of the plan`);
  const dilutions: Record<string, Dilution> = {};
  const own = observeSignal(index, row, scope, choice.lineNm ?? scope.lineNm, choice.run, dilutions);
  if (own === null) return null;
  const lines = choice.lineNm === undefined ? lineCombination(scope) : null;
  const second =
    lines === null ? null : observeSecondLine(index, row, scope, own.calibration.run, lines, dilutions);
  // A result of both lines is none where one of them was not read.
  if (lines !== null && second === null) return null;
  const signals = [own, ...(second === null ? [] : [second])];
  const onLines = signals.flatMap((s) => interferenceOn(index, analyte, s.lineNm, s.label));
  const disturbing = signals.flatMap((s) => interferentsOf(index, analyte, s.lineNm));
  for (const name of new Set(disturbing)) {
    const other = index.scopes.get(name);
    const signal = other && observeInterferent(index, row, other, own.calibration.run, dilutions);
    if (signal) signals.push(signal);
    // A blank holds next to nothing of what disturbs; a sample without the correction would be wrong in silence.
    else if (row.kind !== 'blank') return null;
  }
  const measuredNames = new Set(signals.map((s) => s.analyte));
  const others = signals.filter((s) => s.analyte !== analyte);
  const chain = [...onLines, ...others.flatMap((s) => interferenceOn(index, s.analyte, s.lineNm))];
  return {
    digestion,
    analyte,
    signals,
    interference: chain.filter((k) => row.kind !== 'blank' || measuredNames.has(k.interferent)),
    ...(lines === null ? {} : { lines }),
    dilutions,
    portion: {
      digestion,
      balance: balanceOf(index, row.portionBalance),
      crucibleG: row.crucibleG,
      crucibleWithPortionG: row.crucibleWithPortionG,
      airDensity:
        stated(index, 'air density', analyte) ?? exactly(1.2, 'density of air near 20 °C and 1013 hPa'),
      portionDensity:
        stated(index, 'portion density', analyte) ?? exactly(4000, 'no density of the portion is recorded'),
    },
    solution: {
      digestion,
      vesselBalance: balanceOf(index, row.vesselBalance),
      crucibleBalance: balanceOf(index, row.portionBalance),
      crucibleG: row.crucibleG,
      vesselEmptyG: tareOf(row),
      vesselWithSolutionAndCrucibleG: row.vesselWithSolutionAndCrucibleG,
      airDensity:
        stated(index, 'air density', analyte) ?? exactly(1.2, 'density of air near 20 °C and 1013 hPa'),
      solutionDensityKgPerM3: (row.densityGPerML ?? 1) * 1000,
      ...(index.records.plan.density === undefined
        ? {}
        : { densityMeasurement: densityMeasurement(index.records.plan.density) }),
    },
    fluxG: row.fluxG,
    blank,
    fluxLot: blank === null ? null : stated(index, 'flux lot blank', analyte),
    basis: basisOf(index, row, scope),
  };
}

/** How the plan makes one content of both lines; null where the own line alone counts. */
function lineCombination({ analyte, secondLineNm, secondLineShare }: AnalyteScope): LineCombination | null {
  if (secondLineNm === undefined || secondLineShare === undefined) return null;
  return { secondLabel: `${analyte} ${secondLineNm} nm`, secondShare: secondLineShare };
}

/** In the run of the own line, with a name of its own. */
function observeSecondLine(
  index: StudyIndex,
  row: DigestionRecord,
  scope: AnalyteScope,
  run: string,
  { secondLabel }: LineCombination,
  dilutions: Record<string, Dilution>,
): SolutionSignal | null {
  const signal = observeSignal(index, row, scope, scope.secondLineNm!, run, dilutions);
  return signal === null ? null : { ...signal, label: secondLabel };
}

function tareOf({ digestion, vesselEmptyG }: DigestionRecord): number {
  if (vesselEmptyG !== null) return vesselEmptyG;
  throw new InputError(`digestion ${digestion}: found no mass of the empty vessel, expected one in g`);
}

/** In the same run where it was read there, for then both share its calibration; else in the first run. */
function observeInterferent(
  index: StudyIndex,
  row: DigestionRecord,
  scope: AnalyteScope,
  run: string,
  dilutions: Record<string, Dilution>,
): SolutionSignal | null {
  return (
    observeSignal(index, row, scope, scope.lineNm, run, dilutions) ??
    observeSignal(index, row, scope, scope.lineNm, undefined, dilutions)
  );
}

function exactly(estimate: number, source: string): StatedFactor {
  return { estimate, standardUncertainty: 0, distribution: 'normal', source };
}

function observeSignal(
  index: StudyIndex,
  row: DigestionRecord,
  scope: AnalyteScope,
  lineNm: number,
  run: string | undefined,
  dilutions: Record<string, Dilution>,
): SolutionSignal | null {
  const candidates = [row.digestion, ...(index.dilutionsOf.get(row.digestion) ?? []).map((d) => d.dilution)]
    .flatMap((solution) => index.bySolution.get(solutionKey(solution, scope.analyte, lineNm)) ?? [])
    // What was read first counts, whatever the order of the dilutions in their table.
    .sort((a, b) => a.timeHours - b.timeHours || a.position - b.position);
  const wanted = candidates.filter((m) => run === undefined || m.run === run);
  const diluted = scope.measuredIn === 'dilution';
  const m = wanted.find((c) => (c.solution !== row.digestion) === diluted) ?? wanted[0];
  if (m === undefined) return null;
  const calibration = index.calibrations.get(calibrationKey(m.run, scope.analyte, lineNm));
  if (calibration === undefined) {
    throw new InputError(
      `run ${m.run}: found readings of ${scope.analyte} at ${lineNm} nm, expected a calibration of it`,
    );
  }
  const record = (index.dilutionsOf.get(row.digestion) ?? []).find((d) => d.dilution === m.solution);
  if (lacksDensity(index, row, record)) return null;
  const reading = readingUncertainty(index, row.sample, m);
  return {
    analyte: scope.analyte,
    lineNm,
    solution: m.solution,
    meanRatio: m.meanRatio,
    ratioStandardUncertainty: reading.standardUncertainty,
    ratioDegreesOfFreedom: reading.degreesOfFreedom,
    ...readTogether(index, m, reading.standardUncertainty),
    ...driftAt(index, m),
    calibration,
    stock: stockOf(index.records, calibration.run, scope.analyte),
    match: stated(index, 'density and uptake match', scope.analyte),
    ...dilutionOf(index, row, record, dilutions),
    ...modeInputs(index, row, record, m),
    spectrometer: index.spectrometer,
  };
}

/** Noise of the internal standard in a mean ratio: no more than all its noise. */
function readTogether(
  { commonNoise }: StudyIndex,
  { run, position, ratios, meanRatio, internalStandard }: MeasuredSolution,
  ofRatio: number,
): Pick<SolutionSignal, 'readTogether'> {
  if (commonNoise === null || internalStandard === null) return {};
  const { relative, degreesOfFreedom } = commonNoise;
  const size = Math.min(ofRatio, (relative * Math.abs(meanRatio)) / Math.sqrt(ratios.length));
  if (size === 0) return {};
  const standardUncertainty = Math.sign(meanRatio) * size;
  return { readTogether: { place: `${run}/${position}`, standardUncertainty, degreesOfFreedom } };
}

function driftAt(
  index: StudyIndex,
  m: MeasuredSolution,
): Pick<SolutionSignal, 'drift' | 'driftDegreesOfFreedom'> {
  const checks = index.checks.get(calibrationKey(m.run, m.analyte, m.lineNm)) ?? [];
  if (checks.length === 0) {
    return {
      drift: { factor: 1, standardUncertainty: 0, weight: 0, checks: [0, 0] },
      driftDegreesOfFreedom: Number.POSITIVE_INFINITY,
    };
  }
  const reading = readingUncertainty(index, checks[0]!.solution, checks[0]!);
  return {
    drift: driftOfRun(
      {
        ...{ run: m.run, analyte: m.analyte, lineNm: m.lineNm },
        positions: checks.map((c) => c.position),
        ratios: checks.map((c) => c.meanRatio),
      },
      reading.standardUncertainty,
      m.position,
    ),
    driftDegreesOfFreedom: reading.degreesOfFreedom,
  };
}

function interferenceOn(
  index: StudyIndex,
  analyte: string,
  lineNm: number,
  label: string = analyte,
): InterferenceCoefficient[] {
  return index.records.interference
    .filter((k) => k.analyte === analyte && k.lineNm === lineNm)
    .map((k) => ({
      analyte: label,
      interferent: k.interferent,
      value: k.apparentPerUnit,
      standardUncertainty: k.standardUncertainty,
      source: `interference, ${k.interferent} on ${analyte} ${k.lineNm} nm`,
    }));
}

/** Interferents of a line and, in turn, those of their own lines. */
export function interferentsOf(index: StudyIndex, analyte: string, lineNm: number): string[] {
  const found: string[] = [];
  const visit = (name: string, line: number) => {
    for (const k of interferenceOn(index, name, line)) {
      if (k.interferent === analyte || found.includes(k.interferent)) continue;
      found.push(k.interferent);
      const scope = index.scopes.get(k.interferent);
      if (scope !== undefined) visit(k.interferent, scope.lineNm);
    }
  };
  visit(analyte, lineNm);
  return found;
}

function basisOf(index: StudyIndex, row: DigestionRecord, scope: AnalyteScope): SolidBasis {
  const oxide = scope.oxide === undefined ? null : oxideFactor(scope.oxide);
  const recovery = index.recoveries?.get(scope.analyte);
  return {
    losses: lossesOfPortion(index, row),
    oxide:
      oxide === null
        ? null
        : { formula: scope.oxide!, factor: oxide.factor, standardUncertainty: oxide.standardUncertainty },
    unit: scope.unit,
    evaporation: stated(index, 'evaporation before reading', scope.analyte),
    retained: stated(index, 'retained in fusion', scope.analyte),
    heterogeneity: stated(index, 'sample heterogeneity', scope.analyte),
    ...(recovery === undefined ? {} : { recovery: recovery.factor }),
  };
}
