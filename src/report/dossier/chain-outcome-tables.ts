import type { ChainImprovement } from '../../studies/chain-uncertainty/chain-improvement.js';
import type { HandedOn } from '../../studies/chain-uncertainty/handed-on-function.js';
import type { Budget } from '../../uncertainty/budget.js';
import { column, countCell, degreesOfFreedomCell, empty, number, numberOr, text } from '../cells.js';
import type { Cell, Column, Table } from '../document.js';

function tableOf(
  id: string,
  caption: string,
  columns: readonly Column[],
  rows: readonly (readonly Cell[])[],
  notes: readonly string[],
): Table {
  return { kind: 'table', id, caption, columns, rows, notes };
}

/** s₀ and s₁ of every analyte, for routine results. */
export function functionTable(functions: readonly HandedOn[]): Table {
  return tableOf(
    'function/table',
    'Standard uncertainty as a function of the mass fraction, u(w) = √(s₀² + (s₁·w)²), for routine results',
    [
      column('Analyte'),
      column('Unit'),
      column('s₀'),
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
      ...functionNotes(functions),
      'ν: the smallest effective degrees of freedom of the levels. The function holds within the levels that were studied only.',
    ],
  );
}

/** Notes of the functions, each once with the analytes that it speaks of. */
function functionNotes(functions: readonly HandedOn[]): string[] {
  const all = functions.flatMap((f) =>
    'points' in f ? f.notes.map((note) => ({ note, analyte: f.analyte })) : [],
  );
  return [...new Set(all.map(({ note }) => note))].map((note) => {
    const analytes = all.filter((n) => n.note === note).map(({ analyte }) => analyte);
    return `${analytes.join(', ')}: ${note}.`;
  });
}

function functionRow(f: HandedOn): Cell[] {
  if (!('points' in f)) {
    const none = empty('none');
    const why = text(`no function: ${f.missing}`);
    return [text(f.analyte), text(f.unit), none, none, none, none, none, none, none, why];
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
  return tableOf(
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
      changeCell(100 * (a.expandedUncertainty / found.expandedUncertainty - 1)),
      text(a.meetsTarget ? 'yes' : 'no'),
    ]),
    [
      'Sensitivities are kept; degrees of freedom and coverage factor are found anew. More digestions of one day do not average what they share: the variation between days, calibration and standards.',
    ],
  );
}

function changeCell(percent: number): Cell {
  return Math.abs(percent) < 0.05 ? text('none to speak of') : number(percent, 2);
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
  return tableOf(
    'improvement/inputs',
    `${analyte}, ${level} level: what a better value of one input alone could do; the eight that matter most`,
    [
      column('Input'),
      column('U without its uncertainty', unit),
      column('Factor on its u that reaches the aim'),
      column('Times as many independent repeats, where it is a mean'),
    ],
    rows,
    [],
  );
}
