import type { ChainImprovement } from '../../studies/chain-uncertainty/chain-improvement.js';
import type { ChainUncertainty, LevelChain } from '../../studies/chain-uncertainty/chain-uncertainty.js';
import type { BudgetByBothMethods } from '../../studies/chain-uncertainty/compare-with-simulation.js';
import type { HandedOn } from '../../studies/chain-uncertainty/handed-on-function.js';
import type { Budget } from '../../uncertainty/budget.js';
import {
  column,
  countCell,
  degreesOfFreedomCell,
  empty,
  number,
  numberOr,
  text,
  verdictCell,
} from '../cells.js';
import type { Cell, Column, Table } from '../document.js';

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
  return text(`${Number((100 * low).toPrecision(digits))} to ${Number((100 * high).toPrecision(digits))}`);
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
      column('U by components', '%'),
      column('U by precision', '%'),
      column('Target U', '%'),
      column('Verdict on the target'),
      column('Largest known step'),
      column('its share', '%'),
      column('Unexplained', '%'),
    ],
    levels.map((l): Cell[] => {
      const { components, precision } = l.routes;
      const known = l.shares.slice(0, -1);
      const largest = known.reduce((a, b) => (b.share > a.share ? b : a));
      const { finding } = validation.budgets.find((b) => b.analyte === l.analyte && b.level === l.level)!;
      return [
        text(l.analyte),
        text(l.level),
        number(components.estimate, 4),
        text(l.unit),
        number(relativePercent(components.expandedUncertainty, components), 2),
        number(relativePercent(precision.expandedUncertainty, precision), 2),
        numberOr(l.targetPercent, 2, 'none set'),
        verdictCell(finding.verdict),
        text(largest.step),
        number(100 * largest.share, 2),
        number(100 * l.shares.at(-1)!.share, 2),
      ];
    }),
    [
      'U: expanded uncertainty for 95 % coverage, relative to the result. Shares: parts of the variance by the component route; the square of the standard uncertainty is 100 %.',
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
      'p: probability of the observed scatter or more if the components were all there is.',
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
      column('Interval, propagation: from'),
      column('to'),
      column('Interval, simulation: from'),
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
      'δ: half a unit of the second digit of u; the methods agree where both ends differ by no more (JCGM 101:2008, clause 8). Not decided: the simulation’s own numerical error decides it. None exists: a t distribution of two degrees of freedom or fewer enters, of which only quantiles hold.',
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
        text(route),
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

/** s₀ and s₁ of every analyte, for routine results. */
export function functionTable(functions: readonly HandedOn[]): Table {
  return {
    ...tableOf(
      'function/table',
      'Standard uncertainty as a function of the mass fraction, u(w) = √(s₀² + (s₁·w)²), for routine results',
      [
        column('Analyte'),
        column('Unit'),
        column('s₀, unit of the result'),
        column('s₁', '%'),
        column('Holds from'),
        column('to'),
        column('u found ÷ u fitted, by level'),
        column('ν'),
        column('k for 95 %'),
        column('For routine results'),
      ],
      functions.map(functionRow),
      [
        ...new Set(
          functions.flatMap((f) => ('points' in f ? f.notes.map((n) => `${f.analyte}: ${n}.`) : [])),
        ),
        'ν: the smallest effective degrees of freedom of the levels. The function holds within the levels that were studied only.',
      ],
    ),
  };
}

function functionRow(f: HandedOn): Cell[] {
  if (!('points' in f)) {
    const none = empty(f.missing);
    return [text(f.analyte), text(f.unit), none, none, none, none, none, none, none, text('no function')];
  }
  const contents = f.points.map((p) => p.massFraction);
  return [
    text(f.analyte),
    text(f.unit),
    f.constantPart === 0 ? text('0, not shown') : number(f.constantPart, 2),
    f.proportionalPart === 0 ? text('0, not shown') : number(100 * f.proportionalPart, 2),
    number(Math.min(...contents), 4),
    number(Math.max(...contents), 4),
    text(f.points.map((p) => `${p.level} ${p.ratio.toFixed(2)}`).join('; ')),
    degreesOfFreedomCell(f.degreesOfFreedom, 'not limited'),
    number(f.coverageFactor, 3),
    text(f.outsideBudget === null ? 'yes' : `not until settled: ${f.outsideBudget}`),
  ];
}

/** What each action would bring, the most effective first. */
export function actionsTable({ found, estimate, unit, analyte, level }: ChainImprovement): Table {
  const all = found.actions.at(-1);
  const single = found.actions.filter((a) => a !== all);
  const ordered = [...single].sort((a, b) => a.expandedUncertainty - b.expandedUncertainty);
  return {
    ...tableOf(
      'improvement/actions',
      `${analyte}, ${level} level: expanded uncertainty after each action alone, the most effective first`,
      [
        column('Action'),
        column('u', unit),
        column('U', unit),
        column('U', '%'),
        column('Change of U', '%'),
        column('Aim reached'),
      ],
      [...ordered, ...(all === undefined ? [] : [all])].map((a): Cell[] => [
        text(a.name),
        number(a.standardUncertainty, 2),
        number(a.expandedUncertainty, 2),
        number((100 * a.expandedUncertainty) / Math.abs(estimate), 2),
        number(100 * (a.expandedUncertainty / found.expandedUncertainty - 1), 2),
        text(a.meetsTarget ? 'yes' : 'no'),
      ]),
      [
        'Sensitivities are kept; degrees of freedom and coverage factor are found anew. More digestions of one day do not average what they share: the variation between days, calibration and standards.',
      ],
    ),
  };
}

/** What improving one input alone could do; the eight that matter most. */
export function singlesTable({ found, unit, analyte, level }: ChainImprovement, budget: Budget): Table {
  const rows = found.single
    .slice(0, 8)
    .map((s): Cell[] => [
      text(budget.lines.find((l) => l.input.name === s.input)?.input.description ?? s.input),
      number(s.expandedUncertaintyWithout, 2),
      numberOr(s.factorNeeded, 2, 'none suffices'),
      s.repeatsNeeded === null ? empty('none suffice') : countCell(s.repeatsNeeded),
    ]);
  return {
    kind: 'table',
    id: 'improvement/inputs',
    caption: `${analyte}, ${level} level: what a better value of one input alone could do; the eight that matter most`,
    columns: [
      column('Input'),
      column('U without its uncertainty', unit),
      column('Factor on its u that reaches the aim'),
      column('Times as many independent repeats, where it is a mean'),
    ],
    rows,
    notes: [],
  };
}
