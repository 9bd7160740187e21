import type { Calibration, CalibrationPoint } from '../../chain/calibration.js';
import { fitLine, type LineFit } from '../../statistics/regression/line.js';
import { scaleLimits } from '../../validation/confidence-limits.js';
import {
  type BackgroundEquivalent,
  pooledBackground,
} from '../../validation/detection/background-equivalent.js';
import {
  type DetectionApproach,
  detectionApproaches,
} from '../../validation/detection/detection-approaches.js';
import { detectionLimits } from '../../validation/detection/detection-limits.js';
import type { BatchResult } from '../../validation/detection/method-detection-limit.js';
import type { EvaluatedStudy } from '../evaluate-study.js';
import { solutionKey } from '../study-index.js';
import type { AnalyteLimits } from './blank-study.js';
import { solidPerSolutionUnit } from './calibration-study.js';
import { resultsOf } from './matrix-context.js';

/** All approaches to detection and quantification of one analyte, with what the calibration approaches rest on. */
export interface AnalyteDetection {
  readonly analyte: string;
  /** Unit in the solid and in the solution measured. */
  readonly unit: string;
  readonly solutionUnit: string;
  readonly approaches: readonly DetectionApproach[];
  /** Runs whose lowest standards the calibration approaches pool, and the highest content among these standards. */
  readonly runs: readonly string[];
  readonly upTo: number | null;
  readonly degreesOfFreedom: number | null;
}

/** Highest standard of a line near 0, in multiples of the lowest one above 0; at least four standards are taken. */
const reachNearZero = 5;
const leastStandards = 4;

/** Every approach side by side for every analyte that was measured, in solution and in the solid. */
export function detectionStudy(study: EvaluatedStudy, limits: readonly AnalyteLimits[]): AnalyteDetection[] {
  const { plan } = study.index.records;
  return limits.flatMap((own) => {
    const { analyte, unit } = own;
    if (!study.results.some((r) => r.analyte === analyte)) return [];
    const solidPerUnit = solidPerSolutionUnit(study, analyte);
    const runs = calibrationsOf(study, analyte);
    const line = lineNearZero(runs);
    const approaches = detectionApproaches({
      fromBlanks: blanksInSolution(own, solidPerUnit),
      quantificationFromBlanks:
        own.quantification === null || own.quantification.value === null
          ? null
          : own.quantification.value / solidPerUnit,
      calibration: line === null ? null : { line },
      background: backgroundOf(study, runs) ?? [],
      lowSpikes: lowLevelResults(study, own, solidPerUnit),
      methodBlanks: blankResults(own, solidPerUnit),
      // A point of the line is a mean of as many readings as a digestion gets: digestions are what is averaged.
      readings: plan.resultRule.digestions,
      solidPerUnit,
      planned: plan.detection?.approach ?? 'procedure blanks',
    });
    const used = runs.map(nearZero);
    return [
      {
        analyte,
        unit,
        solutionUnit: plan.calibration.basis,
        approaches,
        runs: runs.map((c) => c.run),
        upTo: line === null ? null : Math.max(...used.flat().map((point) => point.content)),
        degreesOfFreedom: line?.degreesOfFreedom ?? null,
      },
    ];
  });
}

function calibrationsOf(study: EvaluatedStudy, analyte: string): Calibration[] {
  const { lineNm } = study.index.scopes.get(analyte)!;
  return [...study.index.calibrations.values()].filter((c) => c.analyte === analyte && c.lineNm === lineNm);
}

/** The standards of a run that lie near 0. */
export function nearZero({ points }: Pick<Calibration, 'points'>): CalibrationPoint[] {
  const sorted = [...points].sort((a, b) => a.content - b.content);
  const lowest = sorted.find((point) => point.content > 0)?.content ?? 0;
  return sorted.filter((point, i) => i < leastStandards || point.content <= reachNearZero * lowest);
}

/**
 * Line near 0 by ordinary least squares: that of the run with the middle slope, its residual standard deviation pooled over
 * the runs as content, for one run leaves two or three degrees of freedom.
 */
export function lineNearZero(runs: readonly Pick<Calibration, 'points'>[]): LineFit | null {
  const fits = runs
    .map(nearZero)
    .filter((points) => points.length >= leastStandards)
    .map((points) =>
      fitLine(
        points.map((p) => p.content),
        points.map((p) => p.ratio),
      ),
    )
    .filter((fit) => fit.slope > 0);
  const middle = [...fits].sort((a, b) => a.slope - b.slope)[Math.floor(fits.length / 2)];
  if (middle === undefined) return null;
  const degreesOfFreedom = fits.reduce((sum, fit) => sum + fit.degreesOfFreedom, 0);
  const asContent = fits.reduce((sum, fit) => sum + fit.residualSumOfSquares / fit.slope ** 2, 0);
  const pooled = middle.slope * Math.sqrt(asContent / degreesOfFreedom);
  return { ...middle, residualStandardDeviation: pooled, degreesOfFreedom };
}

/** Background of the zero standard over the runs; null where no run has one with repeated readings. */
function backgroundOf(study: EvaluatedStudy, runs: readonly Calibration[]): BackgroundEquivalent | null {
  const found = runs.flatMap(({ run, analyte, lineNm, points, slope }) => {
    const zero = points.find((point) => point.content === 0);
    const measured = study.index.bySolution
      .get(solutionKey(zero?.solution ?? '', analyte, lineNm))
      ?.find((m) => m.run === run);
    return measured !== undefined && measured.ratios.length > 1 && measured.meanRatio > 0
      ? [{ readings: measured.ratios, slope }]
      : [];
  });
  return found.length === 0 ? null : pooledBackground(found);
}

/** Limits from the blanks, whose values are in the solid, in the unit of the solution. */
function blanksInSolution({ blank, correction }: AnalyteLimits, solidPerUnit: number) {
  if (blank === null || blank.atZero === null) return null;
  const { standardDeviation, degreesOfFreedom, limits } = blank.atZero;
  return detectionLimits(
    {
      standardDeviation: standardDeviation / solidPerUnit,
      degreesOfFreedom,
      limits: scaleLimits(limits, 1 / solidPerUnit),
    },
    {
      spreadIs: 'of a result',
      ...(correction === null ? {} : { correctionStandardUncertainty: correction.inSolid / solidPerUnit }),
      solidPerUnit,
    },
  );
}

/** Spikes for a detection limit lie at most so many times above it (US EPA 821-R-16-006, procedure (1), from memory). */
const mostTimesDetection = 10;

/**
 * Results of the sample near the detection limit that the plan names; a batch is a day. None where the sample holds more
 * than a low level of the analyte.
 */
function lowLevelResults(
  study: EvaluatedStudy,
  { analyte, detection }: AnalyteLimits,
  solidPerUnit: number,
): BatchResult[] {
  const sample = study.index.records.plan.detection?.lowLevelSample;
  if (sample === undefined) return [];
  const results = resultsOf(study, analyte, 'sample', sample);
  const level = results.reduce((sum, r) => sum + r.value, 0) / results.length;
  const limit = detection?.detectionLimit ?? null;
  if (limit !== null && level > mostTimesDetection * limit.inSolid) return [];
  return results.map((r) => ({ key: r.digestion, batch: r.day, value: r.value / solidPerUnit }));
}

/** Blanks as results of the method, which subtracts their mean. */
function blankResults({ rows, blank }: AnalyteLimits, solidPerUnit: number): BatchResult[] {
  return rows.map((row) => ({
    key: row.key,
    batch: row.run,
    value: (row.value - (blank?.mean ?? 0)) / solidPerUnit,
  }));
}
