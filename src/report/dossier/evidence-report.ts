import { leftUnused } from '../../records/left-unused.js';
import type { EvidenceItem } from '../../studies/accreditation-evidence.js';
import type { MatrixValidation } from '../../studies/matrix/validate-matrix.js';
import { text } from '../cells.js';
import type { Cell, ReportDocument, Section } from '../document.js';
import type { Audit } from '../issue/audit.js';
import { inReportedForm } from '../reported-form.js';
import { paragraph, sectionOf } from '../section-of.js';
import { auditSection } from '../sections/audit-section.js';
import { cautionsSection } from '../sections/cautions-section.js';
import { equipmentSection } from '../sections/equipment-section.js';
import { evidenceSection } from '../sections/evidence-section.js';
import { exclusionsSection } from '../sections/exclusions-section.js';
import { peopleSection, workDone } from '../sections/people-section.js';
import { proficiencySection } from '../sections/proficiency-section.js';
import { provenanceSection } from '../sections/provenance-section.js';
import { recordsSection } from '../sections/records-section.js';
import { selfCheckSection } from '../sections/self-check-section.js';
import { signaturesSection } from '../sections/signatures-section.js';
import { traceabilitySection } from '../sections/traceability-section.js';
import { verdictTable } from '../sections/verdict-table.js';
import { periodOfWork } from './period-of-work.js';
import { type DossierContext, inventedBanner } from './validation-report.js';

/**
 * The evidence for an assessor: index by clause with gaps first, audit of what was issued, and the records behind it.
 *
 * @see ISO/IEC 17025:2017, 8.4
 */
export function evidenceReport(
  validation: MatrixValidation,
  evidence: readonly EvidenceItem[],
  audit: Audit,
  context: DossierContext,
): ReportDocument {
  const { records } = validation.study.index;
  const { plan } = records;
  const period = periodOfWork(records);
  return {
    title: `Evidence for ${plan.method}`,
    subtitle: `${plan.laboratory}, ${plan.line}: index by clause of ISO/IEC 17025:2017`,
    banner: plan.invented ? inventedBanner : '',
    facts: [
      { name: 'Matrix', value: plan.matrix },
      { name: 'Work', value: `${period.firstDay} to ${period.lastDay}` },
      {
        name: 'Clauses',
        value: `${evidence.filter((e) => e.state === 'held').length} of ${evidence.length} answered in full`,
      },
    ],
    sections: [
      evidenceSection(evidence),
      auditSection(audit),
      findingsSection(validation),
      proficiencySection(inReportedForm(plan, records.rounds)),
      peopleSection(plan.people, workDone(records.digestions)),
      equipmentSection(records.equipment, period),
      traceabilitySection(
        records.standards,
        inReportedForm(plan, records.references),
        plan.fluxLot,
        period.lastDay,
      ),
      recordsSection(context.files, records.missingTables),
      exclusionsSection(records.exclusions, leftUnused(plan, records)),
      selfCheckSection(context.selfCheck, 'every figure'),
      cautionsSection(),
      signaturesSection(),
      provenanceSection(context.provenance),
    ],
    data: { evidence, audit, findings: validation.findings },
  };
}

function findingsSection({ findings, study }: MatrixValidation): Section {
  const open = inReportedForm(study.index.records.plan, findings).filter(
    (f) => f.verdict !== 'met' && f.verdict !== 'no criterion',
  );
  const table = {
    ...verdictTable('open/table', open),
    caption: 'Findings that are not met, not shown or not studied',
  };
  return sectionOf({
    id: 'open',
    heading: 'Findings that need a decision',
    clause: 'ISO/IEC 17025:2017, 7.2.2, 7.10',
    blocks: open.length === 0 ? [paragraph('Every criterion of the plan is met.')] : [withoutLinks(table)],
  });
}

/** The characteristics have no section of their own here, so nothing can be linked to. */
function withoutLinks(table: ReturnType<typeof verdictTable>): typeof table {
  const plain = (cell: Cell): Cell => (cell.kind === 'text' ? text(cell.text) : cell);
  return { ...table, rows: table.rows.map((row) => row.map(plain)) };
}
