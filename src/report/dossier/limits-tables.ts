import type { MatrixValidation } from '../../studies/matrix/validate-matrix.js';
import type { DetectionLimits } from '../../validation/detection/detection-limits.js';
import { column, countCell, numberOr, text } from '../cells.js';
import type { Cell, Table } from '../document.js';

/** Decision, detection and quantification limits of each analyte in the solid, with the spread of the blanks they rest on. */
export function limitsTable({ limits }: MatrixValidation): Table {
  return {
    kind: 'table',
    id: 'limits/table',
    caption:
      'Limits in the solid from the procedure blanks, at nominal portion, flux and solution mass, on the basis of the results',
    columns: [
      column('Analyte'),
      column('Unit'),
      column('Blanks'),
      column('s of one blank'),
      column('ν'),
      column('Decision limit'),
      column('Detection limit'),
      column('its 95 % interval'),
      column('Limit of quantification'),
    ],
    rows: limits.map(({ analyte, unit, blank, detection, quantification }): Cell[] => [
      text(analyte),
      text(unit),
      countCell(blank?.n ?? 0),
      numberOr(blank?.spread?.standardDeviation ?? null, 2, 'too few blanks'),
      numberOr(detection?.degreesOfFreedom ?? null, 3, 'too few blanks'),
      numberOr(detection?.decisionLimit?.inSolid ?? null, 2, withoutLimit(detection)),
      numberOr(detection?.detectionLimit?.inSolid ?? null, 2, withoutLimit(detection)),
      text(intervalOf(detection)),
      numberOr(quantification?.value ?? null, 2, 'none exists'),
    ]),
    notes: [
      'Decision limit: t(0.95, ν)·s₀, s₀ that of the mean of m digestions less the mean blank over the runs: what blanks of one run share counts whole, their scatter within a run by 1/m; with fewer than 5 degrees of freedom within runs the digestions are taken to share all of it. Detection limit: δ(ν, 5 %, 5 %) from the noncentral t distribution in place of t.',
      'Where another analyte disturbs the line, s₀ is widened by the uncertainty of the correction at the content of the interferent in the lowest level; ν grows with it.',
      'The limits are themselves estimates: at the estimated detection limit false negatives are not exactly 5 %, and the interval of s₀ is carried into the limit.',
      'Fewer than six usable blanks, or blanks of fewer than five runs, show no limit, whatever their values: the figures then only inform.',
    ],
  };
}

function withoutLimit(detection: DetectionLimits | null): string {
  return detection === null ? 'too few blanks' : 'blanks without scatter';
}

function intervalOf(detection: DetectionLimits | null): string {
  const interval = detection?.detectionLimits95 ?? null;
  return interval === null
    ? withoutLimit(detection)
    : `${interval.low.toPrecision(2)} to ${interval.high.toPrecision(2)}`;
}

/** Budgets of all analytes and levels in one table: both counting routes, predicted against observed scatter. */
export function budgetOverview({ budgets }: MatrixValidation): Table {
  const percent = (value: number, of: number) => (100 * value) / Math.abs(of);
  return {
    kind: 'table',
    id: 'budgets/overview',
    caption: 'Relative uncertainty of a reported result at every level, %',
    columns: [
      column('Analyte'),
      column('Level'),
      column('Result'),
      column('Unit'),
      column('U, components'),
      column('U, precision'),
      column('k'),
      column('ν'),
      column('Target U'),
      column('Predicted scatter'),
      column('Observed scatter'),
      column('Unexplained'),
      column('its 95 % interval'),
      column('p'),
    ],
    rows: budgets.map((b): Cell[] => [
      shownLevel(budgets, b) ? text(b.analyte, `budget/${b.analyte}/${b.level}`) : text(b.analyte),
      text(b.level),
      numberOr(b.decisive.estimate, 4, ''),
      text(b.unit),
      numberOr(percent(b.components.expandedUncertainty, b.components.estimate), 2, ''),
      numberOr(percent(b.precision.expandedUncertainty, b.precision.estimate), 2, ''),
      numberOr(b.decisive.coverageFactor, 3, ''),
      numberOr(b.decisive.effectiveDegreesOfFreedom, 3, ''),
      numberOr(b.targetPercent, 2, 'none set'),
      numberOr(100 * b.scatter.predicted, 2, ''),
      numberOr(100 * b.scatter.observed, 2, ''),
      numberOr(100 * b.scatter.unexplained, 2, ''),
      text(
        `${(100 * b.scatter.unexplainedInterval.low).toPrecision(2)} to ${(100 * b.scatter.unexplainedInterval.high).toPrecision(2)}`,
      ),
      numberOr(b.scatter.pValue, 2, ''),
    ]),
    notes: [
      'U: expanded uncertainty for 95 % coverage. Components: every step of the chain, and the unexplained fusion–dissolution variation for what they do not predict. Precision: the observed scatter over days in place of all random steps. Random parts are counted once in either.',
      'Predicted and observed: relative standard deviation of a reported result over days, the latter from the mean squares as they were, not held at the repeatability. p: probability of the observed scatter or more if the components were all there is (F, or χ² where the prediction has unlimited ν).',
    ],
    groupedBy: 0,
  };
}

/** The level of each analyte whose budget is printed line by line: the one nearest to its target. */
export function shownLevel(
  budgets: MatrixValidation['budgets'],
  budget: MatrixValidation['budgets'][number],
): boolean {
  const relative = (b: typeof budget) => b.decisive.expandedUncertainty / Math.abs(b.decisive.estimate);
  const own = budgets.filter((b) => b.analyte === budget.analyte);
  return own.reduce((a, b) => (relative(b) > relative(a) ? b : a)) === budget;
}
