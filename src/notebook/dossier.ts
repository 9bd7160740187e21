import { join } from 'node:path';
import type { FolderContent } from '../records/atomic-write.js';
import type { ReportDocument } from '../report/document.js';
import { chainReport } from '../report/dossier/chain-report.js';
import { equipmentChangeReport } from '../report/dossier/equipment-change-report.js';
import { evidenceReport } from '../report/dossier/evidence-report.js';
import { planReport } from '../report/dossier/plan-report.js';
import { routineReport } from '../report/dossier/routine-report.js';
import {
  conformityTable,
  controlsTable,
  figuresTable,
  flagsTable,
} from '../report/dossier/routine-tables.js';
import { totalsTable } from '../report/dossier/totals-section.js';
import { type DossierContext, validationReport } from '../report/dossier/validation-report.js';
import { audit } from '../report/issue/audit.js';
import { readLedger } from '../report/issue/check-ledger.js';
import { readLedgerText } from '../report/issue/ledger.js';
import { resultsWorkbook } from '../report/results-workbook.js';
import { accreditationEvidence, type EvidenceItem } from '../studies/accreditation-evidence.js';
import type { ChainUncertainty } from '../studies/chain-uncertainty/chain-uncertainty.js';
import type { EquipmentChange } from '../studies/equipment-change.js';
import type { IssuedReport } from '../studies/evidence-input.js';
import type { MatrixValidation } from '../studies/matrix/validate-matrix.js';
import type { ValidationPlan } from '../studies/planning/plan-validation.js';
import type { RoutineResults } from '../studies/routine-results/routine-results.js';
import { selfCheckSummary } from '../studies/self-check/summary.js';
import type { OpenedPlan, OpenedStudy } from './open-study.js';
import { projectRoot } from './project-root.js';
import { runSelfCheck } from './run-self-check.js';
import { timestamp, versions } from './versions.js';

async function contextOf(study: Pick<OpenedStudy, 'name' | 'files'>): Promise<DossierContext> {
  return {
    files: study.files,
    selfCheck: await runSelfCheck(),
    provenance: {
      issue: '',
      created: timestamp(),
      versions: versions(),
      seed: null,
      parameters: { study: study.name },
      notes: [
        'The number of the issue, and the SHA-256 of every file of it, stand in its manifest and in the ledger.',
      ],
    },
  };
}

/** The validation report of an opened study. */
export async function validationDossier(
  study: OpenedStudy,
  validation: MatrixValidation,
): Promise<ReportDocument> {
  return validationReport(validation, await contextOf(study));
}

/** The report on the plan of a validation. */
export async function planDossier(opened: OpenedPlan, proposal: ValidationPlan): Promise<ReportDocument> {
  return planReport(proposal, await contextOf(opened));
}

/** The report of a routine run with its results as a workbook. */
export interface RoutineDossier {
  readonly report: ReportDocument;
  /** `results.xlsx`, for `saveReport`. */
  readonly files: FolderContent;
}

/** The report of a routine run. */
export async function routineDossier(
  study: OpenedStudy,
  validationStudy: OpenedStudy,
  results: RoutineResults,
): Promise<RoutineDossier> {
  const report = routineReport(results, {
    ...(await contextOf(study)),
    validationFiles: validationStudy.files,
  });
  const workbook = await resultsWorkbook([
    { name: 'results', table: figuresTable(results) },
    { name: 'totals', table: totalsTable(results) },
    { name: 'conformity', table: conformityTable(results) },
    { name: 'flags', table: flagsTable(results) },
    { name: 'controls', table: controlsTable(results) },
  ]);
  return { report, files: { 'results.xlsx': workbook } };
}

/** The report on the uncertainty of the chain. */
export async function chainDossier(study: OpenedStudy, chain: ChainUncertainty): Promise<ReportDocument> {
  const context = await contextOf(study);
  const { seed, trials } = chain.simulation;
  const parameters = { ...context.provenance.parameters, trials };
  return chainReport(chain, { ...context, provenance: { ...context.provenance, seed, parameters } });
}

/** The report on an exchange of equipment. */
export async function equipmentChangeDossier(
  study: OpenedStudy,
  validation: MatrixValidation,
  change: EquipmentChange,
): Promise<ReportDocument> {
  return equipmentChangeReport(validation, change, await contextOf(study));
}

/** Evidence by clause and the report on it: what was issued is audited first. */
export interface EvidenceDossier {
  readonly evidence: readonly EvidenceItem[];
  readonly report: ReportDocument;
}

/** The evidence of a study as of today. */
export async function evidenceDossier(
  study: OpenedStudy,
  validation: MatrixValidation,
): Promise<EvidenceDossier> {
  const root = join(projectRoot(), 'reports');
  const audited = await audit(root);
  const context = await contextOf(study);
  const evidence = accreditationEvidence({
    records: study.records,
    findings: validation.findings,
    budgets: validation.budgets,
    issued: await issuedReports(root, study.name),
    selfCheck: selfCheckSummary(context.selfCheck),
    auditProblems: audited.problems.map((p) => `${p.place}: found ${p.found}; expected ${p.expected}`),
    today: context.provenance.created.slice(0, 10),
  });
  return { evidence, report: evidenceReport(validation, evidence, audited, context) };
}

async function issuedReports(root: string, study: string): Promise<IssuedReport[]> {
  const { lines } = readLedger(await readLedgerText(root));
  return lines.flatMap((line) =>
    line === null || line.study !== study ? [] : [{ number: line.number, issuedOn: line.created }],
  );
}
