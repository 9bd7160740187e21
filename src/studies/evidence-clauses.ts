import type { EvidenceClause } from '../records/evidence.js';
import { decisionRuleText } from './decision-rule.js';
import { type Answer, both, outside, yes } from './evidence-answer.js';
import type { EvidenceInput } from './evidence-input.js';
import { uncertaintyAnswer, validityAnswer } from './evidence-results.js';

/** A clause, and how the records answer it. */
export interface Draft {
  readonly clause: EvidenceClause;
  readonly asks: string;
  answer(input: EvidenceInput): Answer;
}

const notHere = (what: string) => () => outside(what);

/** Clauses of ISO/IEC 17025:2017 that a validation file is asked about. Clause numbers from memory, texts in our own words. */
export const drafts: readonly Draft[] = [
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
      both(
        yes(records.plan.fluxLot !== '', `flux lot ${records.plan.fluxLot}`, 'the flux lot is not named'),
        outside('the evaluation of suppliers and the check of goods received'),
      ),
  },
  {
    clause: '7.1.3',
    asks: 'Decision rule where conformity is stated',
    answer: ({ records }) =>
      yes(records.plan.decisionRule !== '', decisionRuleText(records.plan), 'no decision rule is stated'),
  },
  {
    clause: '7.2.1',
    asks: 'Method selected and, where it is standard, verified',
    answer: ({ records }) =>
      both(
        yes(records.plan.method !== '', `method ${records.plan.method}`, 'the method is not named'),
        outside('the method’s procedure in its valid version, and why it was selected'),
      ),
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
    answer: uncertaintyAnswer,
  },
  {
    clause: '7.7',
    asks: 'Validity of results: control results and proficiency tests',
    answer: validityAnswer,
  },
  {
    clause: '7.8',
    asks: 'Reports, with opinions and statements of conformity',
    answer: ({ issued }) =>
      both(
        yes(issued.length > 0, `${issued.length} issued report(s) of this tool`, 'no report has been issued'),
        outside('the record of test reports to customers'),
      ),
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
      both(
        yes(issued.length > 0, 'issued reports are numbered and never overwritten', 'no numbered report yet'),
        outside('the control of procedures, forms and other documents'),
      ),
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
    gaps: [],
    outside: failed === 0 ? [] : [`the decision on ${failed} finding(s) not met`],
  };
}

function softwareAnswer({ selfCheck }: EvidenceInput) {
  const { figures, counts, text } = selfCheck;
  const memory =
    selfCheck.remembered === 0 ? '' : `; ${selfCheck.remembered} of the figures are cited from memory`;
  const done = `numerical self-check on this machine: ${text}${memory}`;
  return yes(figures > 0 && counts.differs === 0, done, done);
}
