import { formatSignificant } from '../../quantities/rounding.js';
import type { ChainUncertainty, LevelChain } from '../../studies/chain-uncertainty/chain-uncertainty.js';
import type { BudgetByBothMethods } from '../../studies/chain-uncertainty/compare-with-simulation.js';
import type { Budget } from '../../uncertainty/budget.js';
import { column, degreesOfFreedomCell, number, numberOr, text, verdictCell } from '../cells.js';
import type { Cell, Column, Table } from '../document.js';

/** Counting routes as they are called in reports. */
export const routeNames = { components: 'component route', precision: 'precision route' } as const;

/** Relative expanded or standard uncertainty, %. */
export function relativePercent(value: number, { estimate }: Budget): number {
  return (100 * value) / Math.abs(estimate);
}

function tableOf(
  id: string,
  caption: string,
  columns: readonly Column[],
  rows: readonly (readonly Cell[])[],
  notes: readonly string[] = [],
): Table {
  return { kind: 'table', id, caption, columns, rows, notes, groupedBy: 0 };
}

function interval({ low, high }: { readonly low: number; readonly high: number }, digits = 2): Cell {
  const shown = (value: number) => (value === 0 ? '0' : formatSignificant(100 * value, digits));
  return text(`${shown(low)} to ${shown(high)}`);
}

/** One row a result: uncertainty, target, the step that brings most, and the verdict on the target. */
export function chainOverview({ levels, validation }: ChainUncertainty): Table {
  return tableOf(
    'overview/table',
    'Uncertainty of a reported result, and the steps of the chain that bring most of its variance',
    [
      column('Analyte'),
      column('Level'),
      column('Result'),
      column('Unit'),
      column('U', '%'),
      column('Target', '%'),
      column('Verdict'),
      column('Largest known step'),
      column('its share', '%'),
      column('Unexplained', '%'),
    ],
    levels.map((l): Cell[] => {
      const { components } = l.routes;
      const known = l.shares.slice(0, -1);
      const largest = known.reduce((a, b) => (b.share > a.share ? b : a));
      const { finding } = validation.budgets.find((b) => b.analyte === l.analyte && b.level === l.level)!;
      return [
        text(l.analyte),
        text(l.level),
        number(components.estimate, 4),
        text(l.unit),
        number(relativePercent(components.expandedUncertainty, components), 2),
        numberOr(l.targetPercent, 2, 'none set'),
        verdictCell(finding.verdict),
        text(largest.step),
        number(100 * largest.share, 2),
        number(100 * l.shares.at(-1)!.share, 2),
      ];
    }),
    [
      'U: expanded uncertainty for 95 % coverage by the component route, relative to the result; the other route stands in its own section. Target and verdict: the target uncertainty of the plan. Shares: parts of the variance; the square of the standard uncertainty is 100 %.',
      'Unexplained: fusion–dissolution variation, what digestions scatter more than the components predict.',
    ],
  );
}

/** Predicted against observed scatter of a reported result at every level. */
export function scatterTable({ levels }: ChainUncertainty): Table {
  return tableOf(
    'scatter/table',
    'Relative standard deviation of a reported result over days: predicted by the components, observed, and the unexplained part',
    [
      column('Analyte'),
      column('Level'),
      column('Predicted', '%'),
      column('ν of the prediction'),
      column('Observed', '%'),
      column('95 % interval of the observed', '%'),
      column('ν observed'),
      column('Unexplained', '%'),
      column('95 % interval of the unexplained', '%'),
      column('p'),
      column('Test'),
    ],
    levels.map(({ analyte, level, scatter: s }): Cell[] => [
      text(analyte),
      text(level),
      number(100 * s.predicted, 2),
      degreesOfFreedomCell(s.predictedDegreesOfFreedom, 'not limited'),
      number(100 * s.observed, 2),
      interval(s.observedInterval),
      degreesOfFreedomCell(s.observedDegreesOfFreedom, 'not limited'),
      number(100 * s.unexplained, 2),
      interval(s.unexplainedInterval),
      number(s.pValue, 2),
      text(s.test === 'F' ? 'F' : 'χ²'),
    ]),
    [
      'Unexplained² = observed² − predicted², at the same nesting level; 0 where the prediction reaches the observation. Its interval follows from that of the observed scatter.',
      'p: probability of the observed scatter or more if the components were all there is. Observed, ν, interval and p are of one statistic: the mean squares of days and of digestions, weighted for a result as reported (for a result of a whole day’s digestions the standard deviation of the day means, days − 1). It is not held at the repeatability, so it may lie below the intermediate precision of the validation. The interval is two-sided, p one-sided.',
    ],
  );
}

/** Both counting routes with what each rests on. */
export function routesTable({ levels }: ChainUncertainty): Table {
  const figures = (b: Budget): Cell[] => [
    number(b.standardUncertainty, 2),
    degreesOfFreedomCell(b.effectiveDegreesOfFreedom, 'not limited'),
    number(b.expandedUncertainty, 2),
  ];
  return tableOf(
    'routes/table',
    'Uncertainty of a reported result by both routes, in the unit of the result',
    [
      column('Analyte'),
      column('Level'),
      column('Unit'),
      column('u, components alone'),
      column('u, components'),
      column('ν'),
      column('U, components'),
      column('u, precision'),
      column('ν'),
      column('U, precision'),
      column('Components alone lie'),
      column('Components lie'),
    ],
    levels.map(({ analyte, level, unit, routes: r }): Cell[] => [
      text(analyte),
      text(level),
      text(unit),
      number(r.componentsAlone.standardUncertainty, 2),
      ...figures(r.components),
      ...figures(r.precision),
      text(r.positionAlone),
      text(r.position),
    ]),
    [
      'Below, within or above: against the interval that the 95 % interval of the observed scatter gives the standard uncertainty of the precision route. ν: effective degrees of freedom; U = k·u for 95 % coverage.',
    ],
  );
}

/** The law of propagation and the simulation of one budget a row. */
export function methodsTable(
  id: string,
  caption: string,
  levels: readonly LevelChain[],
  of: (level: LevelChain) => BudgetByBothMethods,
): Table {
  return tableOf(
    id,
    caption,
    [
      column('Analyte'),
      column('Level'),
      column('Unit'),
      column('u, propagation'),
      column('u, simulation'),
      column('Propagation: from'),
      column('to'),
      column('Simulation: from'),
      column('to'),
      column('δ'),
      column('The methods'),
    ],
    levels.map((level): Cell[] => {
      const { budget: b, simulated: s, comparison } = of(level);
      const { tolerance } = comparison.agreement;
      // Ends to the place of δ, by which they are compared.
      const end = (value: number) =>
        number(value, Math.max(1, 1 + Math.floor(Math.log10(Math.abs(value) / tolerance))));
      return [
        text(level.analyte),
        text(level.level),
        text(level.unit),
        number(b.standardUncertainty, 3),
        numberOr(s.standardUncertainty, 3, 'none exists'),
        end(b.estimate - b.expandedUncertainty),
        end(b.estimate + b.expandedUncertainty),
        end(s.symmetric.low),
        end(s.symmetric.high),
        number(tolerance, 1),
        text(comparison.outcome),
      ];
    }),
    [
      'From, to: 95 % interval. δ: half a unit of the second digit of u; the methods agree where both ends differ by no more (JCGM 101:2008, clause 8). Not decided: the simulation’s own numerical error decides it. None exists: a t distribution of two degrees of freedom or fewer enters, of which only quantiles hold.',
    ],
  );
}

/** Why the methods differ, by result and route. */
export function reasonsTable({ levels }: ChainUncertainty): Table {
  const rows = levels.flatMap((level) =>
    (['components', 'precision'] as const).flatMap((route) => {
      const { budget, comparison } = level.methods[route];
      return comparison.reasons.map((reason): Cell[] => [
        text(level.analyte),
        text(level.level),
        text(routeNames[route]),
        text(named(reason, budget)),
      ]);
    }),
  );
  return tableOf(
    'methods/reasons',
    'Where the law of propagation and the simulation differ: what makes them differ',
    [column('Analyte'), column('Level'), column('Route'), column('Reason')],
    rows,
  );
}

/** The reason with the input it begins with told in words. */
function named(reason: string, { lines }: Budget): string {
  const [first = ''] = reason.split(' ');
  const line = lines.find(({ input }) => input.name === first);
  return line === undefined ? reason : `${line.input.description} (${first})${reason.slice(first.length)}`;
}
