import type { StudyRecords } from '../../src/records/study-records.js';
import type { Figure, ReportDocument, Section } from '../../src/report/document.js';
import { sectionOf } from '../../src/report/section-of.js';
import { budgetSection } from '../../src/report/sections/budget-section.js';
import { cautionsSection } from '../../src/report/sections/cautions-section.js';
import { characteristicSection } from '../../src/report/sections/characteristic-section.js';
import { equipmentSection } from '../../src/report/sections/equipment-section.js';
import { exclusionsSection } from '../../src/report/sections/exclusions-section.js';
import { fitnessSection } from '../../src/report/sections/fitness-section.js';
import { peopleSection, workDone } from '../../src/report/sections/people-section.js';
import { planSection } from '../../src/report/sections/plan-section.js';
import { provenanceSection } from '../../src/report/sections/provenance-section.js';
import { recordsSection } from '../../src/report/sections/records-section.js';
import { scopeSection } from '../../src/report/sections/scope-section.js';
import { selfCheckSection } from '../../src/report/sections/self-check-section.js';
import { signaturesSection } from '../../src/report/sections/signatures-section.js';
import { traceabilitySection } from '../../src/report/sections/traceability-section.js';
import { verdictsSection } from '../../src/report/sections/verdicts-section.js';
import type { Finding } from '../../src/validation/finding.js';
import { sampleFigures } from './sample-figures.js';
import { sampleBudget } from './sample-report.js';

function characteristics(findings: readonly Finding[], figures: readonly Figure[]): Section[] {
  const names = [...new Set(findings.map(({ characteristic }) => characteristic))];
  return names.map((name, index) => {
    const [first, ...others] = findings.filter(({ characteristic }) => characteristic === name);
    return characteristicSection([first!, ...others], figures.slice(index + 1, index + 2));
  });
}

/** A whole dossier of invented figures around the given records: every section once, in the order of a real one. */
export function sampleDossier(records: StudyRecords, findings: readonly Finding[]): ReportDocument {
  const { plan } = records;
  const days = records.digestions.map(({ day }) => day).sort();
  const period = { firstDay: days[0] ?? '', lastDay: days.at(-1) ?? '' };
  const statements = [...new Set(findings.map(({ analyte }) => analyte))].map((analyte) => {
    const own = findings.filter((finding) => finding.analyte === analyte);
    return {
      analyte,
      sentence: `${analyte}: not fit for the intended use.`,
      notMet: own.filter(({ verdict }) => verdict === 'not met'),
      open: own.filter(({ verdict }) => verdict === 'not shown'),
    };
  });
  return {
    title: plan.title,
    subtitle: `${plan.laboratory}, ${plan.method}`,
    banner: 'Invented demonstration data',
    facts: [
      { name: 'Study', value: plan.study },
      { name: 'Plan of', value: plan.planDate },
      { name: 'Work', value: `${period.firstDay} to ${period.lastDay}` },
      { name: 'Issue', value: `${plan.study}/0001` },
    ],
    sections: [
      verdictsSection(findings),
      fitnessSection({
        intendedUse: plan.intendedUse,
        statements,
        conditions: ['Results are reported by the rule in the scope.', 'Solutions are read within 48 h.'],
      }),
      scopeSection(plan, [
        {
          analyte: 'Al',
          unit: 'mg/kg',
          tested: { low: 400, high: 4000 },
          calibrated: { low: 200, high: 9000 },
          quantification: 42,
          quantificationShown: true,
          confirmations: [],
        },
      ]),
      planSection(plan, period.firstDay),
      sectionOf({
        id: 'characteristics',
        heading: 'Performance characteristics',
        clause: 'ISO/IEC 17025:2017, 7.2.2.4 c',
        blocks: [],
        sections: characteristics(findings, sampleFigures()),
      }),
      budgetSection({
        introduction: 'Random parts are counted by components.',
        model: {
          title: 'Mass fraction in the solid',
          outputs: ['w'],
          equations: [
            {
              name: 'n',
              description: 'amount in the solution',
              unit: 'mg',
              expression: 'c * F * m_s / 1000',
            },
            {
              name: 'w',
              description: 'mass fraction in the dry sample',
              unit: 'mg/kg',
              expression: '(n - m_bl) / (m_p * (1 - moisture)) / R * 1000',
            },
          ],
        },
        entries: [
          { id: 'budget/Al/low', caption: 'Aluminium, low level', budget: sampleBudget, target: 60 },
          { id: 'budget/Al/high', caption: 'Aluminium, high level', budget: sampleBudget, target: 40 },
        ],
      }),
      recordsSection([{ file: 'digestions.csv', rows: 121, sha256: 'ba7816bf'.repeat(8) }], ['rounds']),
      exclusionsSection(records.exclusions),
      peopleSection(plan.people, workDone(records.digestions)),
      equipmentSection(records.equipment, period),
      traceabilitySection(records.standards, records.references, plan.fluxLot, period.lastDay),
      selfCheckSection([
        {
          source: 'JCGM 100:2008 (GUM)',
          clause: 'H.1',
          quantity: 'combined standard uncertainty, nm',
          published: '32',
          computed: 31.664,
          digits: 1.97,
          agreement: 'agrees',
          figureTakenFrom: 'document read',
        },
      ]),
      cautionsSection(),
      signaturesSection(),
      provenanceSection({
        issue: `${plan.study}/0001`,
        created: '2026-04-01T09:00:00Z',
        versions: { meltbook: '0.1.0', node: 'v20.20.2' },
        seed: null,
        parameters: { study: plan.study, coverageProbability: 0.95 },
        notes: [],
      }),
    ],
    data: { findings },
  };
}
