import type { StudyRecords } from '../records/study-records.js';
import type { Finding } from '../validation/finding.js';
import type { SelfCheckSummary } from './self-check/summary.js';

/** How far the records answer one clause. */
export type EvidenceState = 'held' | 'partly held' | 'missing';

/** One item of the evidence index: what a clause asks, in our own words, and what the records hold. */
export interface EvidenceItem {
  readonly clause: string;
  readonly asks: string;
  readonly state: EvidenceState;
  readonly holds: readonly string[];
  readonly gaps: readonly string[];
}

/** One issued report, as the ledger names it. */
export interface IssuedReport {
  readonly number: string;
  readonly issuedOn: string;
}

/** What the index is made from. `today` is an ISO date. */
export interface EvidenceInput {
  readonly records: StudyRecords;
  readonly findings: readonly Finding[];
  readonly budgets: number;
  readonly issued: readonly IssuedReport[];
  readonly selfCheck: SelfCheckSummary;
  readonly auditProblems: readonly string[];
  readonly today: string;
}

interface Draft {
  readonly clause: string;
  readonly asks: string;
  answer(input: EvidenceInput): { readonly holds: readonly string[]; readonly gaps: readonly string[] };
}

const yes = (condition: boolean, holds: string, gap: string) =>
  condition ? { holds: [holds], gaps: [] } : { holds: [], gaps: [gap] };

const both = (
  ...answers: readonly { readonly holds: readonly string[]; readonly gaps: readonly string[] }[]
) => ({
  holds: answers.flatMap((a) => a.holds),
  gaps: answers.flatMap((a) => a.gaps),
});

const notHere = (what: string) => () => ({
  holds: [],
  gaps: [`${what} is kept outside these records: name where it is held`],
});

/** Clauses of ISO/IEC 17025:2017 that a validation file is asked about. Clause numbers from memory, texts in our own words. */
const drafts: readonly Draft[] = [
  {
    clause: '6.2',
    asks: 'People: competence and authorisation for each task',
    answer: ({ records }) =>
      both(
        yes(
          records.plan.people.length > 0,
          `${records.plan.people.length} people with role and authorisation`,
          'nobody is named with an authorisation',
        ),
        ...[...new Set(records.digestions.map((d) => d.operator))]
          .filter((operator) => !records.plan.people.some((p) => p.name === operator))
          .map((operator) => ({
            holds: [],
            gaps: [`operator ${operator} worked on digestions and has no authorisation on record`],
          })),
      ),
  },
  {
    clause: '6.3',
    asks: 'Facilities and environmental conditions',
    answer: notHere('the record of room conditions'),
  },
  { clause: '6.4', asks: 'Equipment: register, calibration state, due dates', answer: equipmentAnswer },
  {
    clause: '6.4.10',
    asks: 'Intermediate checks of equipment between calibrations',
    answer: ({ records }) =>
      yes(
        records.readings.some((r) => r.solution === records.plan.driftCheckSolution),
        `check solution ${records.plan.driftCheckSolution} read in every run`,
        'no intermediate check of balances or spectrometer is on record',
      ),
  },
  {
    clause: '6.5',
    asks: 'Metrological traceability of standards and reference materials',
    answer: traceabilityAnswer,
  },
  {
    clause: '6.6',
    asks: 'Externally provided products: flux lots, standards, crucibles',
    answer: ({ records }) =>
      yes(records.plan.fluxLot !== '', `flux lot ${records.plan.fluxLot}`, 'the flux lot is not named'),
  },
  {
    clause: '7.1.3',
    asks: 'Decision rule where conformity is stated',
    answer: ({ records }) =>
      yes(records.plan.decisionRule !== '', records.plan.decisionRule, 'no decision rule is stated'),
  },
  {
    clause: '7.2.1',
    asks: 'Method selected and, where it is standard, verified',
    answer: ({ records }) =>
      yes(records.plan.method !== '', `method ${records.plan.method}`, 'the method is not named'),
  },
  {
    clause: '7.2.2',
    asks: 'Validation: requirements, characteristics, results, statement of fitness',
    answer: validationAnswer,
  },
  { clause: '7.3', asks: 'Sampling', answer: notHere('the sampling plan') },
  {
    clause: '7.4',
    asks: 'Handling of samples',
    answer: notHere('the record of receipt, storage and return'),
  },
  {
    clause: '7.5',
    asks: 'Technical records: who, when, original data, changes',
    answer: ({ records }) =>
      both(
        yes(
          records.readings.length > 0,
          `${records.digestions.length} digestions, ${records.readings.length} readings`,
          'no readings',
        ),
        {
          holds: [`${records.exclusions.length} exclusion(s), each with who, when and technical cause`],
          gaps: [],
        },
      ),
  },
  {
    clause: '7.6',
    asks: 'Measurement uncertainty: all contributions of importance',
    answer: ({ budgets }) => yes(budgets > 0, `${budgets} uncertainty budgets`, 'no uncertainty budget'),
  },
  {
    clause: '7.7',
    asks: 'Validity of results: control results and proficiency tests',
    answer: ({ records }) =>
      both(
        yes(records.history.length > 0, `${records.history.length} control results`, 'no control results'),
        yes(
          records.rounds.length > 0,
          `${new Set(records.rounds.map((r) => r.round)).size} proficiency rounds`,
          'no proficiency test',
        ),
      ),
  },
  {
    clause: '7.8',
    asks: 'Reports, with opinions and statements of conformity',
    answer: ({ issued }) =>
      yes(issued.length > 0, `${issued.length} issued report(s)`, 'no report has been issued'),
  },
  { clause: '7.10', asks: 'Nonconforming work', answer: nonconformingAnswer },
  {
    clause: '7.11',
    asks: 'Data and software: validated, protected, calculations checked',
    answer: softwareAnswer,
  },
  {
    clause: '8.3',
    asks: 'Control of documents',
    answer: ({ issued }) =>
      yes(issued.length > 0, 'issued reports are numbered and never overwritten', 'no numbered report yet'),
  },
  {
    clause: '8.4',
    asks: 'Control of records',
    answer: ({ auditProblems, issued }) =>
      auditProblems.length > 0
        ? { holds: [], gaps: auditProblems }
        : yes(issued.length > 0, 'ledger and manifests verified without a finding', 'no ledger yet'),
  },
  { clause: '8.5', asks: 'Risks and opportunities', answer: notHere('the assessment of risks') },
  { clause: '8.7', asks: 'Corrective action', answer: notHere('the record of corrective actions') },
  { clause: '8.8', asks: 'Internal audits', answer: notHere('the record of internal audits') },
];

/** The evidence index, gaps first; within one state by clause. */
export function accreditationEvidence(input: EvidenceInput): EvidenceItem[] {
  const order: readonly EvidenceState[] = ['missing', 'partly held', 'held'];
  return drafts
    .map(({ clause, asks, answer }) => {
      const { holds, gaps } = answer(input);
      const state: EvidenceState =
        gaps.length === 0 ? 'held' : holds.length === 0 ? 'missing' : 'partly held';
      return { clause, asks, state, holds, gaps };
    })
    .sort((a, b) => order.indexOf(a.state) - order.indexOf(b.state));
}

function equipmentAnswer({ records, today }: EvidenceInput) {
  const late = records.equipment.filter(
    (e) => (e.inServiceTo === null || e.inServiceTo >= today) && e.dueOn < today,
  );
  return both(
    yes(
      records.equipment.length > 0,
      `${records.equipment.length} pieces of equipment with certificate and due date`,
      'no equipment register',
    ),
    ...late.map((e) => ({ holds: [], gaps: [`${e.id}: calibration was due on ${e.dueOn}`] })),
  );
}

function traceabilityAnswer({ records, today }: EvidenceInput) {
  const expired = [
    ...records.standards.map((s) => ({ what: `standard ${s.name} (${s.analyte})`, expiry: s.expiry })),
    ...records.references.map((r) => ({
      what: `reference material ${r.material} (${r.analyte})`,
      expiry: r.expiry,
    })),
  ].filter((item) => item.expiry < today);
  return both(
    yes(
      records.standards.length > 0,
      `${records.standards.length} standards with certificate`,
      'no standards are recorded',
    ),
    yes(
      records.references.length > 0,
      `${records.references.length} certified values`,
      'no certified reference material',
    ),
    ...expired.map((item) => ({ holds: [], gaps: [`${item.what} expired on ${item.expiry}`] })),
  );
}

function validationAnswer({ findings, records }: EvidenceInput) {
  const open = findings.filter(
    (f) => f.verdict === 'not met' || f.verdict === 'not shown' || f.verdict === 'not studied',
  );
  return both(
    yes(
      records.plan.criteria.length > 0,
      `${records.plan.criteria.length} criteria, plan of ${records.plan.planDate}`,
      'no criteria were set before the work',
    ),
    yes(
      findings.length > 0,
      `${findings.length} findings with verdict and clause`,
      'no validation has been evaluated',
    ),
    ...open.map((f) => ({
      holds: [],
      gaps: [`${f.characteristic}, ${f.analyte}${f.level === '' ? '' : `, ${f.level}`}: ${f.verdict}`],
    })),
  );
}

function nonconformingAnswer({ records, findings }: EvidenceInput) {
  const failed = findings.filter((f) => f.verdict === 'not met').length;
  return {
    holds: [`${records.exclusions.length} exclusion(s) with technical cause`],
    gaps: failed === 0 ? [] : [`${failed} finding(s) not met: the decision on them is not on record`],
  };
}

function softwareAnswer({ selfCheck }: EvidenceInput) {
  const { figures, counts, text } = selfCheck;
  const done = `numerical self-check on this machine: ${text}`;
  return yes(figures > 0 && counts.differs === 0, done, done);
}
