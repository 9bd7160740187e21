import type { MatrixValidation } from '../../studies/matrix/validate-matrix.js';
import type { Criterion } from '../../validation/finding.js';
import { edges } from '../../validation/verdict.js';
import type { Figure } from '../document.js';
import { biasByMaterial } from '../figures/bias-by-material.js';
import { blanksOverRuns } from '../figures/blanks-over-runs.js';
import { calibrationDeviations } from '../figures/calibration-deviations.js';
import { precisionByDay } from '../figures/precision-by-day.js';
import { recoveryBySpike } from '../figures/recovery-by-spike.js';
import { stabilityOverTime } from '../figures/stability-over-time.js';
import { analyteName } from '../sections/finding-order.js';

/** Figures of the dossier by characteristic; a characteristic without a figure is told by its tables alone. */
export function characteristicFigures(validation: MatrixValidation): ReadonlyMap<string, readonly Figure[]> {
  return new Map<string, readonly Figure[]>([
    ['intermediate precision', precisionFigures(validation)],
    ['trueness', truenessFigures(validation)],
    ['recovery before fusion', recoveryFigures(validation, 'recovery before fusion')],
    ['recovery after dissolution', recoveryFigures(validation, 'recovery after dissolution')],
    ['linearity', linearityFigures(validation)],
    ['procedure blank', blankFigures(validation)],
    ['solution stability', stabilityFigures(validation)],
  ]);
}

const percent = (fraction: number) => 100 * fraction;

/** The limit of a symmetric or one-sided relative criterion, in %. */
function allowedPercent(criterion: Criterion | null): number | null {
  return criterion === null || criterion.unit !== '%' ? null : criterion.limit;
}

/** One figure an analyte, at the level where its intermediate precision comes nearest to what is allowed. */
function precisionFigures({ precision }: MatrixValidation): Figure[] {
  const analytes = [...new Set(precision.map((p) => p.analyte))];
  return analytes.map((analyte) => {
    const own = precision.filter((p) => p.analyte === analyte);
    const worst = own.reduce((a, b) => (relativeSpread(b) > relativeSpread(a) ? b : a));
    const days = [...new Set(worst.rows.map((r) => r.day))].sort();
    return precisionByDay({
      id: `precision/${analyte}`,
      caption: `${analyteName(analyte)}, ${worst.level} level (${worst.sample}): digestions by day`,
      unit: worst.unit,
      days: days.map((day) => ({
        day,
        results: worst.rows.filter((r) => r.day === day).map((r) => ({ digestion: r.key, value: r.value })),
      })),
      mean: worst.precision.components.mean,
    });
  });
}

function relativeSpread({ precision }: MatrixValidation['precision'][number]): number {
  return precision.overDays.value / precision.components.mean;
}

function truenessFigures({ trueness }: MatrixValidation): Figure[] {
  if (trueness.length === 0) return [];
  return [
    biasByMaterial({
      id: 'trueness/bias',
      caption: 'Relative bias with its two-sided 95 % interval against each certified value',
      materials: trueness.map(({ finding, certified }) => ({
        material: `${finding.analyte}, ${certified.material}`,
        bias: finding.estimate ?? 0,
        low: finding.limits?.low ?? finding.estimate ?? 0,
        high: finding.limits?.high ?? finding.estimate ?? 0,
        allowed: allowedPercent(finding.criterion),
      })),
    }),
  ];
}

function recoveryFigures({ recovery }: MatrixValidation, characteristic: string): Figure[] {
  return recovery
    .filter((r) => r.finding.characteristic === characteristic)
    .map(({ finding, spikes, standardUncertaintyOfAddition, overDays }) => {
      const range = finding.criterion === null ? null : edges(finding.criterion);
      return recoveryBySpike({
        id: `${characteristic.replaceAll(' ', '-')}/${finding.analyte}`,
        caption: `${analyteName(finding.analyte)}: ${characteristic} of each addition`,
        spikes: spikes.map((spike) => ({
          digestion: spike.key,
          stage: characteristic.replace('recovery ', ''),
          recovery: percent(spike.recovery),
          standardUncertainty: percent(
            Math.hypot(
              standardUncertaintyOfAddition,
              scatter(
                spikes.map((s) => s.recovery),
                overDays.mean,
              ),
            ),
          ),
        })),
        allowed: range === null || !Number.isFinite(range.low) ? null : range,
      });
    });
}

function scatter(values: readonly number[], mean: number): number {
  if (values.length < 2) return 0;
  return Math.sqrt(values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / (values.length - 1));
}

function linearityFigures({ linearity, study }: MatrixValidation): Figure[] {
  return linearity.map(({ finding, levels }) =>
    calibrationDeviations({
      id: `linearity/${finding.analyte}`,
      caption: `${analyteName(finding.analyte)}: back-calculated deviation of each standard over the runs, with the 90 % interval of its mean`,
      unit: study.index.records.plan.calibration.basis,
      levels: levels.map((level) => ({
        level: level.level,
        massFraction: level.massFraction,
        deviations: level.deviations.map(percent),
        interval:
          level.limits === null
            ? null
            : { low: percent(level.limits.lowerOneSided), high: percent(level.limits.upperOneSided) },
      })),
      allowed: allowedPercent(finding.criterion),
    }),
  );
}

function blankFigures({ limits, study }: MatrixValidation): Figure[] {
  const causes = study.index.records.exclusions.filter((e) => e.table === 'digestions');
  return limits
    .filter((l) => l.rows.length > 0)
    .map((l) =>
      blanksOverRuns({
        id: `blank/${l.analyte}`,
        caption: `${analyteName(l.analyte)}: usable procedure blanks over the runs, as mass fraction in the solid${excludedText(l.excluded.length)}`,
        unit: l.unit,
        blanks: l.rows.map((row) => ({
          run: row.run,
          digestion: row.key,
          value: row.value,
          excluded: causes.find((e) => e.rowKey === row.key)?.technicalCause ?? '',
        })),
        allowed: l.blank?.finding.criterion?.limit ?? null,
      }),
    );
}

function excludedText(n: number): string {
  return n === 0 ? '' : `; ${n} more excluded with a recorded cause`;
}

function stabilityFigures({ stability, study }: MatrixValidation): Figure[] {
  const plan = study.index.records.plan.stability;
  if (stability.length === 0 || plan === null) return [];
  return [
    stabilityOverTime({
      id: 'stability/change',
      caption: 'Mean change of the solutions since their first reading',
      series: stability.map(({ finding, times }) => ({
        name: finding.analyte,
        points: times.map((time) => ({ hours: time.hours, relative: 100 + time.meanPercent })),
      })),
      allowed: plan.allowedChangePercent,
      wantedHours: plan.wantedHours,
    }),
  ];
}
