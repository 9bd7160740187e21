import { diagnosticsStudy, type RunDiagnostics } from '../../studies/matrix/diagnostics-study.js';
import { screeningStudy } from '../../studies/matrix/screening-study.js';
import type { AnalyteTrend } from '../../studies/matrix/trend-study.js';
import type { MatrixValidation } from '../../studies/matrix/validate-matrix.js';
import { scaleOf } from '../../validation/scale.js';
import { column, countCell, empty, number, numberOr, text } from '../cells.js';
import type { Block, Figure, Table } from '../document.js';
import { calibrationResiduals } from '../figures/calibration-residuals.js';
import { halfNormalEffects } from '../figures/half-normal-effects.js';
import { trendOverSequence } from '../figures/trend-over-sequence.js';
import { carryOverBlocks } from './carry-over-blocks.js';
import { driftBlocks } from './drift-blocks.js';
import { factorBlocks } from './factor-blocks.js';
import { homogeneityBlocks, homogeneityFigures } from './homogeneity-blocks.js';
import { screeningBlocks } from './screening-blocks.js';

/** Figures that stand before the tables of a characteristic, about ruggedness and the sequence. */
export function robustnessFigures(validation: MatrixValidation): ReadonlyMap<string, readonly Figure[]> {
  return new Map([
    ['ruggedness', ruggednessFigures(validation)],
    ['homogeneity', homogeneityFigures(validation.homogeneity)],
    ['sample trend', validation.trends.map(trendFigure)],
  ]);
}

/** Blocks that stand after the tables of a characteristic. */
export function robustnessBlocks(validation: MatrixValidation): ReadonlyMap<string, readonly Block[]> {
  return new Map<string, readonly Block[]>([
    ['intermediate precision', [...factorBlocks(validation), ...screeningBlocks(screeningStudy(validation))]],
    ['linearity', diagnosticBlocks(validation)],
    ['check solution', driftBlocks(validation)],
    ['carry-over', carryOverBlocks(validation)],
    ['homogeneity', homogeneityBlocks(validation.homogeneity)],
  ]);
}

function ruggednessFigures({ ruggedness, study }: MatrixValidation): Figure[] {
  const plan = study.index.records.plan.ruggedness;
  if (ruggedness === null || plan === undefined) return [];
  const { finding, effects, meanResponse, standardError } = ruggedness;
  const scale = scaleOf(finding.criterion, plan.unit, meanResponse);
  return [
    halfNormalEffects({
      id: `ruggedness/${plan.analyte}`,
      caption: `${plan.analyte} in ${plan.sample}: effects of deliberate changes${scale.relative ? ', relative to the mean response' : ''}`,
      unit: scale.unit,
      effects: effects.map((e) => ({
        factor: e.factor,
        effect: e.effect * scale.factor,
        score: e.halfNormalScore,
        low: e.limits.lowerOneSided * scale.factor,
        high: e.limits.upperOneSided * scale.factor,
      })),
      standardError: standardError * scale.factor,
      allowed: finding.criterion?.limit ?? null,
    }),
  ];
}

function trendFigure({ trend, rows }: AnalyteTrend): Figure {
  const lines = trend.runs.map(({ run, relativeChange }) => {
    const own = rows.filter((r) => r.run === run);
    const places = own.map((r) => r.position);
    const level = own.reduce((sum, r) => sum + r.value, 0) / own.length;
    const centre = places.reduce((a, b) => a + b, 0) / places.length;
    const [first, last] = [Math.min(...places), Math.max(...places)];
    const at = (place: number) => 100 * level * (1 + (relativeChange * (place - centre)) / (last - first));
    return { run, from: [first, at(first)] as const, to: [last, at(last)] as const };
  });
  const { analyte } = trend.finding;
  return trendOverSequence({
    id: `sample-trend/${analyte}`,
    caption: `${analyte}: results over the sequence after correction of drift, each relative to the mean of its own material`,
    axisTitle: '% of the mean of its material',
    points: rows.map((r) => ({ ...r, value: 100 * r.value })),
    lines,
    centre: 100,
  });
}

function diagnosticBlocks({ study }: MatrixValidation): Block[] {
  const all = diagnosticsStudy(study);
  if (all.length === 0) return [];
  const analytes = [...new Set(all.map((d) => d.analyte))];
  const own = (analyte: string) => all.filter((d) => d.analyte === analyte);
  const { basis } = study.index.records.plan.calibration;
  return [
    diagnosticTable(analytes.map((analyte) => [analyte, own(analyte)])),
    ...analytes.map((analyte) =>
      calibrationResiduals({
        id: `linearity/residuals/${analyte}`,
        caption: `${analyte}: standardised residuals of the calibration functions of all runs`,
        unit: basis,
        points: own(analyte).flatMap(({ run, points }) =>
          points.map((p) => ({
            solution: `${run} ${p.solution}`,
            massFraction: p.content,
            residual: p.standardised,
          })),
        ),
      }),
    ),
  ];
}

function diagnosticTable(groups: readonly (readonly [string, readonly RunDiagnostics[]])[]): Table {
  return {
    kind: 'table',
    id: 'linearity/diagnostics',
    caption: 'Diagnostics of the calibration functions: shown beside the verdict, they decide nothing',
    columns: [
      column('Analyte'),
      column('Calibrations'),
      column('Mandel’s test: smallest p'),
      column('Calibrations with p < 0.05'),
      column('Lack of fit: smallest p'),
      column('Largest leverage'),
      column('Standard of the largest leverage'),
      column('Largest studentised residual'),
      column('Standard of that residual'),
    ],
    rows: groups.map(([analyte, runs]) => diagnosticRow(analyte, runs)),
    notes: [
      'Mandel’s test asks whether a second-degree term fits significantly better than the line (ISO 8466-1:2021; no clause); of twenty calibrations that are straight, one has p < 0.05 by chance. Lack of fit needs independently prepared replicates at a level. A leverage near 1 says that the function is fixed by that standard alone, which its own residual can then not reveal. Residuals are studentised without the point itself: beyond about 4 a standard deserves a second look.',
    ],
  };
}

function diagnosticRow(analyte: string, runs: readonly RunDiagnostics[]): Table['rows'][number] {
  const mandel = runs.flatMap((r) => r.diagnostics.mandel?.pValue ?? []);
  const lack = runs.flatMap((r) => r.diagnostics.lackOfFit?.pValue ?? []);
  const points = runs.flatMap((r) => r.points.map((p) => ({ ...p, run: r.run })));
  const largest = (size: (p: (typeof points)[number]) => number) =>
    points.reduce((best, p) => (size(p) > size(best) ? p : best));
  const lever = largest((p) => p.leverage);
  const far = largest((p) => Math.abs(p.studentised));
  return [
    text(analyte),
    countCell(runs.length),
    numberOr(mandel.length === 0 ? null : Math.min(...mandel), 2, 'too few levels'),
    mandel.length === 0 ? empty('too few levels') : countCell(mandel.filter((p) => p < 0.05).length),
    numberOr(lack.length === 0 ? null : Math.min(...lack), 2, 'no independent replicates'),
    number(lever.leverage, 2),
    text(`${lever.run} ${lever.solution}`),
    numberOr(Number.isFinite(far.studentised) ? far.studentised : null, 3, 'the others fit exactly'),
    text(`${far.run} ${far.solution}`),
  ];
}
