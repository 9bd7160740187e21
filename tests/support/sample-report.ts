import type { Figure, ReportDocument, Section, Table } from '../../src/report/document.js';
import type { Budget, BudgetLine } from '../../src/uncertainty/budget.js';

/** Invented figures: they show how a report looks and check no method. */
function line(
  name: string,
  description: string,
  step: string,
  estimate: number,
  u: number,
  sensitivity: number,
  share: number,
): BudgetLine {
  return {
    input: {
      name,
      description,
      unit: 'g',
      estimate,
      standardUncertainty: u,
      degreesOfFreedom: step === 'signal' ? 9 : Number.POSITIVE_INFINITY,
      distribution: step === 'signal' ? { kind: 't' } : { kind: 'rectangular', halfWidth: u * Math.sqrt(3) },
      evaluation: step === 'signal' ? 'A' : 'B',
      sourceKind: 'certificate',
      source: 'certificate INV-1',
      step,
      equipment: 'BAL-1',
      withinPrecision: false,
    },
    sensitivity,
    contribution: Math.abs(sensitivity) * u,
    share,
  };
}

export const sampleBudget: Budget = {
  output: 'w',
  description: 'Mass fraction of aluminium in the dry sample',
  unit: 'mg/kg',
  estimate: 1850.3,
  standardUncertainty: 21.4,
  effectiveDegreesOfFreedom: 17.3,
  coverageProbability: 0.95,
  coverageFactor: 2.107,
  expandedUncertainty: 45.1,
  lines: [
    line('m_p', 'mass of the portion', 'weighing', 0.2001, 0.00012, -9250, 0.0027),
    line('m_s', 'mass of the solution', 'weighing', 100.02, 0.0021, 18.5, 0.0000033),
    line('c_app', 'mass fraction in solution', 'signal', 3.7, 0.034, 500, 0.63),
    line('K', 'interference coefficient', 'signal', 5e-4, 2.1e-5, -462500, 0.21),
    line('m_bl', 'mass in the blank', 'blank', 0.0013, 0.0004, -5000, 0.157),
  ],
  notes: ['Invented figures.'],
};

export const sampleTable: Table = {
  kind: 'table',
  id: 'table/levels',
  caption: 'Relative deviation by level',
  columns: [
    { heading: 'Level', unit: '' },
    { heading: 'Mass fraction', unit: 'mg/kg' },
    { heading: 'Deviation', unit: '%' },
    { heading: 'Verdict', unit: '' },
  ],
  rows: [
    [
      { kind: 'text', text: 'low', link: 'precision' },
      { kind: 'number', value: 12.3456789, digits: 4 },
      { kind: 'number', value: -0.5, digits: 2 },
      { kind: 'verdict', verdict: 'met' },
    ],
    [
      { kind: 'text', text: 'middle' },
      { kind: 'number', value: 123456.789, digits: 7 },
      { kind: 'number', value: 12.25, digits: 3 },
      { kind: 'verdict', verdict: 'not met' },
    ],
    [
      { kind: 'text', text: 'high' },
      { kind: 'number', value: 1.2e9, digits: 2 },
      { kind: 'empty', reason: 'not measured' },
      { kind: 'verdict', verdict: 'not shown' },
    ],
    [
      { kind: 'text', text: 'none' },
      { kind: 'number', value: 0.00042, digits: 2 },
      { kind: 'number', value: 0, digits: 2 },
      { kind: 'verdict', verdict: 'no criterion' },
    ],
    [
      { kind: 'text', text: 'other' },
      { kind: 'number', value: Number.POSITIVE_INFINITY, digits: 2 },
      { kind: 'number', value: 3, digits: 1 },
      { kind: 'verdict', verdict: 'not studied' },
    ],
  ],
  notes: ['Invented figures.'],
};

export const sampleFigure: Figure = {
  kind: 'figure',
  id: 'figure/days',
  caption: 'Results by day',
  traces: [{ type: 'scatter', mode: 'markers', x: [1, 2, 3], y: [2.1, 1.9, 2.0] }],
  layout: { width: 680, height: 320, xaxis: { title: { text: 'Day' } } },
  table: { ...sampleTable, id: 'figure/days' },
};

const precision: Section = {
  id: 'precision',
  heading: 'Precision',
  clause: 'ISO/IEC 17025:2017, 7.2.2.3',
  blocks: [
    { kind: 'paragraph', text: 'Ten days, two digestions a day.' },
    { kind: 'list', items: ['first', 'second'] },
    { kind: 'facts', facts: [{ name: 'Days', value: '10' }] },
    { kind: 'caution', text: 'Platinum is damaged by free metals.' },
    { kind: 'equation', name: 'w', expression: '(n - m_bl) / (m_p * (1 - moisture)) / R', unit: 'mg/kg' },
    sampleTable,
    sampleFigure,
  ],
  sections: [
    {
      id: 'budget',
      heading: 'Budget',
      clause: '',
      blocks: [
        { kind: 'budget', id: 'budget/Al', caption: 'Budget of aluminium', budget: sampleBudget, target: 60 },
        { kind: 'signatures', roles: ['Prepared', 'Reviewed', 'Authorised'] },
      ],
      sections: [],
    },
  ],
};

/** A small report that holds every kind of block once. */
export const sampleReport: ReportDocument = {
  title: 'Validation of an invented method',
  subtitle: 'All blocks a report can hold',
  banner: 'Invented demonstration data',
  facts: [
    { name: 'Laboratory', value: 'Quillmere Materials Laboratory (invented)' },
    { name: 'Method', value: 'QML-F2-07' },
  ],
  sections: [precision],
  data: { full: 0.1 + 0.2, levels: [1, 2, 3] },
};
