import type {
  ResultConformity,
  ResultFlag,
  RoutineResult,
} from '../../studies/routine-results/routine-result.js';
import type { RoutineResults } from '../../studies/routine-results/routine-results.js';
import { conformancePercent } from '../../uncertainty/conformity/conformance-probability.js';
import { correlationOf } from '../../uncertainty/correlated-results/correlated-result.js';
import { column, countCell, number, numberOr, text } from '../cells.js';
import type { Cell, Table } from '../document.js';
import { reportedForm } from '../reported-form.js';

/** Controls of the run: failed ones first. */
export function controlsTable({ controls, run }: RoutineResults): Table {
  const { plan } = run.index.records;
  const sorted = [...controls].sort((a, b) => Number(a.passed) - Number(b.passed));
  return {
    kind: 'table',
    id: 'acceptance/controls',
    caption: 'Controls of the run against their limits; what failed stands first',
    columns: [
      column('Control'),
      column('Of'),
      column('Found'),
      column('Lowest allowed'),
      column('Highest allowed'),
      column('Unit'),
      column('Outcome'),
    ],
    rows: sorted.map((c): Cell[] => [
      text(c.control),
      // A check solution holds the element; what is found in the solid stands in the form reported.
      text(c.control.includes('solution') ? c.about : reportedForm(plan, c.about)),
      numberOr(c.found, 4, 'not made'),
      numberOr(c.low, 4, 'none'),
      numberOr(c.high, 4, 'none'),
      text(c.unit),
      text(c.found === null ? 'not made' : c.passed ? 'passed' : 'failed'),
    ]),
    notes: rules(sorted),
  };
}

/** Each rule once, with the controls it decides. */
function rules(controls: RoutineResults['controls']): string[] {
  const names = new Map<string, Set<string>>();
  for (const { rule, control } of controls) names.set(rule, (names.get(rule) ?? new Set()).add(control));
  return [...names].map(([rule, of]) => `${[...of].join(', ')}: ${rule}.`);
}

/** One row a sample, one column an analyte: what goes out, or why nothing does. */
export function overviewTable({ results, run }: RoutineResults): Table {
  const { analytes } = run.index.records.plan;
  const samples = [...new Set(results.map((r) => r.sample))];
  return {
    kind: 'table',
    id: 'results/overview',
    caption: 'Results with expanded uncertainty (95 %)',
    columns: [
      column('Sample'),
      ...analytes.map(({ oxide, analyte, unit }) => column(oxide ?? analyte, unit)),
    ],
    rows: samples.map((sample) => [
      text(sample),
      ...analytes.map(({ analyte }) =>
        resultCell(results.find((r) => r.sample === sample && r.analyte === analyte)!),
      ),
    ]),
    notes: [
      'Value ± U, U = k·u for a coverage probability of 95 %, k by the t distribution for the effective degrees of freedom of each result.',
      '“held”: a flag stands on the result; a person decides before it is used. “<”: below the lowest mass fraction that is reported; the estimate stands in the table of all figures.',
      ...validationNotes(results.filter(goesOut)),
    ],
  };
}

function resultCell(result: RoutineResult): Cell {
  if (result.status === 'held') return text(`held (${result.text})`);
  if (result.status === 'no result') return { kind: 'empty', reason: result.text };
  const shown = result.status === 'below limit' ? result.text.replace(/ \(estimate.*$/, '') : result.text;
  return text(shown + validationMark(result));
}

/** Whether a flag comes from the validation and not from the run. */
export function ofValidationFlag({ kind }: ResultFlag): boolean {
  return kind === 'not fit by its validation' || kind === 'fitness not shown';
}

function goesOut({ status }: RoutineResult): boolean {
  return status === 'reported' || status === 'below limit';
}

/** Mark beside a result whose analyte the validation does not call fit; `validationNotes` say why. */
function validationMark({ flags }: RoutineResult): string {
  return flags.some(ofValidationFlag) ? '†' : '';
}

function validationNotes(results: readonly RoutineResult[]): string[] {
  const reasons = results.flatMap((r) => r.flags.filter(ofValidationFlag).map((f) => f.text));
  return [...new Set(reasons)].map((reason) => `† By the validation, ${reason}`);
}

/** Every flag in words. */
export function flagsTable({ results }: RoutineResults): Table {
  const flagged = results.flatMap((r) => r.flags.filter((f) => f.holds).map((flag) => ({ r, flag })));
  const gathered = new Map<string, { sample: string; analytes: string[]; kind: string; text: string }>();
  for (const { r, flag } of flagged) {
    const key = `${r.sample}|${flag.kind}|${flag.text}`;
    const known = gathered.get(key);
    if (known === undefined) {
      gathered.set(key, { sample: r.sample, analytes: [r.analyte], kind: flag.kind, text: flag.text });
    } else known.analytes.push(r.analyte);
  }
  const rows = [...gathered.values()];
  const bySampleCount = new Map<string, number>();
  for (const row of rows) bySampleCount.set(row.text, (bySampleCount.get(row.text) ?? 0) + 1);
  // What stands on very many samples alike is a matter of the run: one row says it.
  const common = new Set([...bySampleCount].flatMap(([words, n]) => (n > 5 ? [words] : [])));
  const seen = new Set<string>();
  return {
    kind: 'table',
    id: 'flags/table',
    caption: 'Flags that hold results back',
    columns: [column('Sample'), column('Analyte'), column('Flag'), column('Found, and expected')],
    rows: rows.flatMap((row): Cell[][] => {
      if (common.has(row.text) && seen.has(row.text)) return [];
      seen.add(row.text);
      const sample = common.has(row.text) ? `${bySampleCount.get(row.text)} samples` : row.sample;
      return [[text(sample), text(row.analytes.join(', ')), text(row.kind), text(row.text)]];
    }),
    notes: [],
  };
}

/** Decisions against the specification. */
export function conformityTable({ results, run }: RoutineResults): Table {
  const decided = results.filter((r) => r.conformity !== null);
  return {
    kind: 'table',
    id: 'conformity/table',
    caption: 'Conformity with the specification',
    columns: [
      column('Analyte'),
      column('Sample'),
      column('Result'),
      column('Unit'),
      column('Lowest accepted'),
      column('Highest accepted'),
      column('Decision'),
      column('Conformance probability', '%'),
    ],
    rows: [...decided]
      .sort(
        (a, b) =>
          a.analyte.localeCompare(b.analyte) ||
          Number(a.conformity!.accepted) - Number(b.conformity!.accepted),
      )
      .map((r): Cell[] => [
        text(r.reportedAs),
        text(r.sample),
        text(r.text + validationMark(r)),
        text(r.unit),
        acceptedCell(r.conformity!, 'lower'),
        acceptedCell(r.conformity!, 'upper'),
        text(r.conformity!.accepted ? 'accepted' : 'rejected'),
        probabilityCell(r.conformity!.conformanceProbability),
      ]),
    notes: [
      'Lowest and highest accepted: the limits of the specification, moved by the guard band of the rule at the u of the result; the result is compared with them as it stands in the table of all figures.',
      ...undecidedNotes(results, run.index.records.plan.routine!.specifications),
      ...validationNotes(decided),
    ],
    groupedBy: 0,
  };
}

/** By specification: the samples that no decision stands for. */
function undecidedNotes(
  results: readonly RoutineResult[],
  specifications: readonly { readonly analyte: string }[],
): string[] {
  return specifications.flatMap(({ analyte }) => {
    const open = results.filter((r) => r.analyte === analyte && r.conformity === null);
    const named = (status: RoutineResult['status'], words: string) => {
      const samples = open.filter((r) => r.status === status).map((r) => r.sample);
      return samples.length === 0 ? [] : [`${words} ${samples.join(', ')}`];
    };
    const words = [...named('held', 'held'), ...named('no result', 'without value')];
    return words.length === 0 ? [] : [`Not decided, ${open[0]!.reportedAs}: ${words.join('; ')}.`];
  });
}

function acceptedCell({ acceptance }: ResultConformity, side: 'lower' | 'upper'): Cell {
  return acceptance === null
    ? { kind: 'empty', reason: 'none: the guard bands leave nothing' }
    : numberOr(acceptance[side], 5, 'no limit');
}

function probabilityCell(probability: number): Cell {
  return probability > 0.999 || probability < 0.001
    ? text(conformancePercent(probability))
    : number(100 * probability, 3);
}

/** All figures of every result. */
export function figuresTable({ results }: RoutineResults): Table {
  const none = 'no value';
  return {
    kind: 'table',
    id: 'results/figures',
    caption: 'All figures of every result',
    columns: [
      column('Sample'),
      column('Digestions'),
      column('Reported as'),
      column('Unit'),
      column('Value'),
      column('u'),
      column('k'),
      column('U (95 %)'),
      column('Effective degrees of freedom'),
      column('Lowest reported'),
      column('Status'),
      column('As reported'),
    ],
    rows: results.map((r): Cell[] => [
      text(r.sample),
      text(r.digestions.join(', ') || 'none'),
      text(r.reportedAs),
      text(r.unit),
      numberOr(r.value, 5, none),
      numberOr(r.standardUncertainty, 3, none),
      numberOr(r.coverageFactor, 3, none),
      numberOr(r.expandedUncertainty, 3, none),
      r.effectiveDegreesOfFreedom !== null && Number.isFinite(r.effectiveDegreesOfFreedom)
        ? countCell(Math.floor(r.effectiveDegreesOfFreedom))
        : { kind: 'empty', reason: r.value === null ? none : 'unlimited' },
      number(r.lowestReported, 3),
      text(r.status),
      text(r.text),
    ]),
    notes: ['Degrees of freedom are rounded down.'],
    groupedBy: 0,
  };
}

/** Correlation of the results of one sample: what they share makes totals and ratios uncertain. */
export function correlationTable({ results }: RoutineResults): Table | null {
  const sample = results.find((r) => r.correlated !== null)?.sample;
  const own = results.filter((r) => r.sample === sample && r.correlated !== null);
  if (own.length < 2) return null;
  return {
    kind: 'table',
    id: 'correlation/table',
    caption: `Correlation coefficients of the results of ${sample}`,
    columns: [column('Reported as'), ...own.map((r) => column(r.reportedAs))],
    rows: own.map((a) => [
      text(a.reportedAs),
      ...own.map((b) => number(correlationOf(a.correlated!, b.correlated!), 2)),
    ]),
    notes: [
      'From weighing, dilution, day, digestion, calibration, stocks and factors that they have in common.',
    ],
  };
}
