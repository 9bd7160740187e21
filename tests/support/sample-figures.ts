import type { Figure } from '../../src/report/document.js';
import { biasByMaterial } from '../../src/report/figures/bias-by-material.js';
import { blanksOverRuns } from '../../src/report/figures/blanks-over-runs.js';
import { budgetComparison } from '../../src/report/figures/budget-comparison.js';
import { budgetShares } from '../../src/report/figures/budget-shares.js';
import { calibrationDeviations } from '../../src/report/figures/calibration-deviations.js';
import { calibrationResiduals } from '../../src/report/figures/calibration-residuals.js';
import { controlChart } from '../../src/report/figures/control-chart.js';
import { halfNormalEffects } from '../../src/report/figures/half-normal-effects.js';
import { portionsByUnit } from '../../src/report/figures/portions-by-unit.js';
import { precisionByDay } from '../../src/report/figures/precision-by-day.js';
import { recoveryBySpike } from '../../src/report/figures/recovery-by-spike.js';
import { routesSideBySide } from '../../src/report/figures/routes-side-by-side.js';
import { sharesByStep } from '../../src/report/figures/shares-by-step.js';
import { stabilityOverTime } from '../../src/report/figures/stability-over-time.js';
import { trendOverSequence } from '../../src/report/figures/trend-over-sequence.js';
import { verdictOverview } from '../../src/report/figures/verdict-overview.js';
import type { Criterion, Finding, Verdict } from '../../src/validation/finding.js';
import { sampleBudget } from './sample-report.js';

/** Invented findings: they show how a report looks and check no method. */
export function sampleFinding(
  characteristic: string,
  analyte: string,
  level: string,
  figures: readonly [number, number, number] | null,
  criterion: Criterion | null,
  verdict: Verdict,
): Finding {
  const [low = 0, estimate = 0, high = 0] = figures ?? [];
  return {
    id: `${characteristic}/${analyte}/${level}`,
    characteristic,
    analyte,
    level,
    quantity: `${characteristic} of ${analyte}`,
    unit: '%',
    estimate: figures === null ? null : estimate,
    limits: figures === null ? null : { lowerOneSided: low, upperOneSided: high, low, high },
    degreesOfFreedom: figures === null ? null : 9.4,
    n: figures === null ? 0 : 20,
    criterion,
    verdict,
    reason: 'The upper one-sided 95 % limit lies below the criterion.',
    clause: 'ISO 5725-2:2019, 7.4',
    method: 'One-way analysis of variance',
    rows: [{ table: 'digestions', keys: ['D-001', 'D-002', 'D-003'] }],
    notes: ['An invented note.'],
  };
}

function criterion(kind: Criterion['kind'], limit: number): Criterion {
  return { kind, limit, unit: '%', reason: 'need of the customer', owner: 'M. Ferrante' };
}

export const sampleFindings: readonly Finding[] = [
  sampleFinding('trueness', 'Al', 'QRM-1', [3.6, 5.1, 6.6], criterion('within', 3), 'not met'),
  sampleFinding('trueness', 'Al', 'QRM-2', [-1.2, 0.4, 2.0], criterion('within', 3), 'met'),
  sampleFinding('repeatability', 'Al', 'low', [0.6, 0.8, 1.2], criterion('at most', 2), 'met'),
  sampleFinding('intermediate precision', 'Al', 'low', [0.9, 1.3, 2.4], criterion('at most', 2), 'not shown'),
  sampleFinding('recovery', 'Ca', 'before fusion', [91, 96, 101], criterion('at least', 90), 'met'),
  sampleFinding('quantification', 'Ca', 'blank', null, criterion('at most', 10), 'not shown'),
  sampleFinding('stability', 'Ca', '48 h', [0.1, 0.2, 0.3], null, 'no criterion'),
  sampleFinding('ruggedness', 'Ca', '', null, null, 'not studied'),
  sampleFinding('repeatability', 'Ca', 'low', [0.5, 7.1, 9.4], criterion('at most', 2), 'not shown'),
];

/** One figure of every kind, on invented data; `label` is put into every text that could come from a record. */
export function sampleFigures(label = ''): Figure[] {
  const after = {
    ...sampleBudget,
    lines: sampleBudget.lines.map((line, index) => ({
      ...line,
      input: { ...line.input, description: `${label}${line.input.description}` },
      contribution: index < 2 ? line.contribution * 3 : line.contribution,
    })),
  };
  const days = Array.from({ length: 10 }, (_, day) => ({
    day: `${label}2026-03-${String(day + 2).padStart(2, '0')}`,
    results: [0, 1].map((digestion) => ({
      digestion: `${label}D-${2 * day + digestion + 1}`,
      value: 1850 + 12 * Math.sin(3 * day) + 5 * Math.cos(7 * day + 2 * digestion),
    })),
  }));
  const control = (from: number, count: number, shift: number) =>
    Array.from({ length: count }, (_, index) => ({
      label: `${label}run ${from + index}`,
      value: 100 + shift + 0.8 * Math.sin(5 * (from + index)),
      flag: index === 11 ? `${label}beyond the warning limit` : '',
    }));
  const chain = ['low', 'high'].map((level, index) => ({ analyte: `${label}Al`, level, index }));
  return [
    sharesByStep({
      id: 'f/shares',
      caption: 'Shares of the variance by step',
      bars: chain.map(({ analyte, level, index }) => ({
        analyte,
        level,
        emphasised: 'unexplained variation',
        shares: [
          { step: `${label}weighing`, share: 0.05 },
          { step: 'dissolution', share: 0.012 },
          { step: 'emission', share: 0.338 - index / 10 },
          { step: 'calibration', share: 0.2 },
          { step: 'oxide form', share: -0.001 },
          { step: 'blank', share: 0.001 },
          { step: 'unexplained variation', share: 0.4 + index / 10 },
        ],
      })),
    }),
    routesSideBySide({
      id: 'f/routes',
      caption: 'Both routes side by side',
      results: chain.map(({ analyte, level, index }) => ({
        analyte,
        level,
        componentsAlone: 0.31,
        components: 0.5 + index / 10,
        precision: 0.5 + index / 10,
        interval: { low: 0.33, high: 1.1 },
      })),
    }),
    verdictOverview(
      'f/overview',
      'Findings relative to their criteria',
      sampleFindings.map((finding) => ({ ...finding, analyte: `${label}${finding.analyte}` })),
    ),
    calibrationDeviations({
      id: 'f/deviations',
      caption: 'Back-calculated deviation by level',
      unit: 'mg/kg',
      levels: [0.2, 0.5, 1, 2, 5, 10].map((massFraction, index) => ({
        level: `${label}S${index + 1}`,
        massFraction,
        deviations: [0, 1, 2].map((run) => Math.sin(4 * index + run) / (1 + index / 2)),
        interval: index === 5 ? null : { low: -0.9 / (1 + index / 3), high: 0.8 / (1 + index / 3) },
      })),
      allowed: 2.5,
    }),
    portionsByUnit({
      id: 'portions',
      caption: 'Portions by container',
      unit: 'mg/kg',
      portions: [
        { container: `${label}B1`, portion: 1, value: 100.2 },
        { container: `${label}B1`, portion: 2, value: 99.7 },
        { container: 'B2', portion: 1, value: 100.4 },
      ],
      mean: 100.1,
    }),
    halfNormalEffects({
      id: 'effects',
      caption: 'Effects of deliberate changes',
      unit: '%',
      effects: [
        { factor: `${label}temperature`, effect: 2.03, score: 1.8, low: 1.4, high: 2.7 },
        { factor: 'time', effect: -0.4, score: 0.9, low: -1.0, high: 0.2 },
        { factor: 'flux', effect: 0.1, score: 0.3, low: -0.5, high: 0.7 },
      ],
      standardError: 0.3,
      allowed: 4,
    }),
    trendOverSequence({
      id: 'trend',
      caption: 'Results over the sequence',
      axisTitle: '% of the mean of its material',
      points: [
        { run: 'R-01', position: 12, value: 100.2 },
        { run: 'R-01', position: 30, value: 99.7 },
        { run: 'R-01', position: 41, value: 100.1 },
      ],
      lines: [{ run: `${label}R-01`, from: [12, 100.1], to: [41, 99.9] }],
      centre: 100,
    }),
    calibrationResiduals({
      id: 'f/residuals',
      caption: 'Residuals of the calibration',
      unit: 'mg/kg',
      points: [0, 0.2, 0.5, 1, 2, 5, 10].map((massFraction, index) => ({
        solution: `${label}S${index}`,
        massFraction,
        residual: 1.6 * Math.sin(9 * index + 1),
      })),
    }),
    precisionByDay({ id: 'f/days', caption: 'Results by day', unit: 'mg/kg', days, mean: 1851.2 }),
    budgetShares('f/shares', 'Shares of the variance', after),
    budgetComparison('f/comparison', 'Contributions before and after', sampleBudget, after),
    recoveryBySpike({
      id: 'f/recovery',
      caption: 'Recovery by spike',
      spikes: [97.2, 99.1, 101.3, 98.4, 100.2, 99.7].map((recovery, index) => ({
        digestion: `${label}D-${40 + index}`,
        stage: `${label}${index < 3 ? 'before fusion' : 'after dissolution'}`,
        recovery,
        standardUncertainty: 1.1,
      })),
      allowed: { low: 95, high: 105 },
    }),
    controlChart({
      id: 'f/control',
      caption: 'Control results before and after the change',
      unit: 'mg/kg',
      periods: [
        { name: `${label}before`, points: control(1, 30, 0), centre: 100, warning: 1.2, action: 1.8 },
        { name: `${label}after`, points: control(31, 20, 0.4), centre: 100.4, warning: null, action: null },
      ],
    }),
    stabilityOverTime({
      id: 'f/stability',
      caption: 'Stability of solutions',
      series: ['D-1', 'D-2', 'D-3'].map((name, index) => ({
        name: label + name,
        points: [0, 24, 48, 72, 96].map((hours) => ({
          hours,
          relative: 100 - (hours > 48 ? 0.03 * (hours - 48) : 0) + 0.2 * Math.sin(hours + index),
        })),
      })),
      allowed: 1,
      wantedHours: 72,
    }),
    blanksOverRuns({
      id: 'f/blanks',
      caption: 'Procedure blanks',
      unit: 'mg',
      blanks: Array.from({ length: 12 }, (_, index) => ({
        run: `${label}R${Math.floor(index / 4) + 1}`,
        digestion: `${label}B-${index + 1}`,
        value: index % 5 === 3 ? 0.011 : 0.0013 + 0.0004 * Math.sin(3 * index),
        excluded: index % 5 === 3 ? `${label}contaminated scoop` : '',
      })),
      allowed: 0.004,
    }),
    biasByMaterial({
      id: 'f/bias',
      caption: 'Bias by reference material',
      materials: [
        { material: `${label}QRM-1`, bias: 12.1, low: 10.2, high: 14, allowed: 3 },
        { material: `${label}QRM-2`, bias: 0.4, low: -1.1, high: 1.9, allowed: 3 },
        { material: `${label}QRM-3`, bias: -0.8, low: -2, high: 0.4, allowed: null },
      ],
    }),
  ];
}
