import type { SourceFile } from '../../records/decoded-study.js';
import { leftUnused } from '../../records/left-unused.js';
import type { MatrixValidation } from '../../studies/matrix/validate-matrix.js';
import { workingRanges } from '../../studies/matrix/working-ranges.js';
import type { SelfCheckFigure } from '../../studies/self-check/self-check.js';
import type { Finding } from '../../validation/finding.js';
import type { Block, ReportDocument, Section } from '../document.js';
import { budgetShares } from '../figures/budget-shares.js';
import { inReportedForm } from '../reported-form.js';
import { paragraph, sectionOf } from '../section-of.js';
import { budgetSection } from '../sections/budget-section.js';
import { cautionsSection } from '../sections/cautions-section.js';
import { characteristicSection } from '../sections/characteristic-section.js';
import { controlResultsSection } from '../sections/control-results-section.js';
import { equipmentInUse, equipmentSection } from '../sections/equipment-section.js';
import { exclusionsSection } from '../sections/exclusions-section.js';
import { fitnessSection } from '../sections/fitness-section.js';
import { peopleSection, workDone } from '../sections/people-section.js';
import { planSection } from '../sections/plan-section.js';
import { proficiencySection } from '../sections/proficiency-section.js';
import { type Provenance, provenanceSection } from '../sections/provenance-section.js';
import { recordsSection } from '../sections/records-section.js';
import { scopeSection } from '../sections/scope-section.js';
import { selfCheckSection } from '../sections/self-check-section.js';
import { signaturesSection } from '../sections/signatures-section.js';
import { traceabilitySection } from '../sections/traceability-section.js';
import { verdictsSection } from '../sections/verdicts-section.js';
import { characteristicFigures } from './characteristic-figures.js';
import { detectionBlocks } from './detection-blocks.js';
import { fitnessConditions } from './fitness-conditions.js';
import { fusionSection } from './fusion-blocks.js';
import { interferenceBlocks } from './interference-blocks.js';
import { budgetOverview, limitsTable, shownLevel } from './limits-tables.js';
import { periodOfWork } from './period-of-work.js';
import { recoveryBlocks, recoveryFacts } from './recovery-blocks.js';
import { robustnessBlocks, robustnessFigures } from './robustness-blocks.js';
import { samplesTable } from './samples-table.js';
import { exclusionBlocks } from './screening-blocks.js';
import { comparisonBlocks, comparisonFigures } from './trueness-blocks.js';
import { unstudiedBlocks } from './unstudied-blocks.js';

/** What a dossier says beside the calculation. */
export interface DossierContext {
  readonly files: readonly SourceFile[];
  readonly selfCheck: readonly SelfCheckFigure[];
  readonly provenance: Provenance;
}

/** What the marks beside a clause number mean. */
const aboutSources =
  'Each characteristic names the published source of its calculation. “Clause from memory” says that the number of the clause was written down without the document at hand, “no clause” that none is cited: compare with your own copy before you quote it. Calculations that a published example exists for are checked against it in the numerical self-check.';

/** Words that every page of made-up data bears. */
export const inventedBanner = 'Invented demonstration data: no real laboratory, sample or result';

/**
 * The validation report of a matrix: verdicts first, then what they rest on.
 *
 * @see ISO/IEC 17025:2017, 7.2.2.4 (records of validation)
 */
export function validationReport(validation: MatrixValidation, context: DossierContext): ReportDocument {
  const { records } = validation.study.index;
  const { plan } = records;
  const period = periodOfWork(records);
  return {
    title: plan.title,
    subtitle: `${plan.laboratory}, ${plan.line}, method ${plan.method}`,
    banner: plan.invented ? inventedBanner : '',
    facts: [
      { name: 'Matrix', value: plan.matrix },
      { name: 'Intended use', value: plan.intendedUse },
      { name: 'Plan of', value: `${plan.planDate}, ${plan.planOwner}` },
      { name: 'Work', value: `${period.firstDay} to ${period.lastDay}` },
      {
        name: 'On equipment',
        value: equipmentInUse(records.equipment, period)
          .map(({ id }) => id)
          .join(', '),
      },
      {
        name: 'Digestions by',
        value: workDone(records.digestions)
          .map(({ name }) => name)
          .join(', '),
      },
      ...recoveryFacts(validation.study.index.recoveries),
      { name: 'Release', value: 'not by this report: an authorised person decides and signs' },
    ],
    sections: [
      verdictsSection(validation.findings),
      fitnessSection({
        intendedUse: plan.intendedUse,
        statements: validation.fitness,
        conditions: fitnessConditions(validation),
      }),
      scopeSection(plan, workingRanges(validation), [samplesTable(validation)]),
      planSection(plan, period.firstDay, validation.findings),
      sectionOf({
        id: 'characteristics',
        heading: 'Performance characteristics',
        clause: 'ISO/IEC 17025:2017, 7.2.2.4 c',
        blocks: [paragraph(aboutSources), ...unstudiedBlocks(validation)],
        sections: characteristicSections(validation),
      }),
      budgets(validation),
      ...fusionSection(records),
      sectionOf({
        id: 'beside-this-study',
        heading: 'Results beside this study',
        clause: 'ISO/IEC 17025:2017, 7.7',
        blocks: [
          paragraph(
            'For information: no verdict of this report rests on what follows. It shows whether later or other work agrees with what was found.',
          ),
        ],
        sections: [
          proficiencySection(inReportedForm(plan, records.rounds)),
          controlResultsSection(inReportedForm(plan, records.history)),
        ],
      }),
      recordsSection(context.files, records.missingTables),
      exclusionsSection(records.exclusions, leftUnused(plan, records), exclusionBlocks(validation)),
      peopleSection(plan.people, workDone(records.digestions)),
      equipmentSection(records.equipment, period),
      traceabilitySection(
        records.standards,
        inReportedForm(plan, records.references),
        plan.fluxLot,
        period.lastDay,
      ),
      selfCheckSection(context.selfCheck),
      cautionsSection(),
      signaturesSection(),
      provenanceSection(context.provenance),
    ],
    data: reportData(validation),
  };
}

function characteristicSections(validation: MatrixValidation): Section[] {
  const figures = new Map([
    ...characteristicFigures(validation),
    ...robustnessFigures(validation),
    ...comparisonFigures(validation),
  ]);
  const more = new Map<string, readonly Block[]>([
    ['limit of quantification', [limitsTable(validation), ...detectionBlocks(validation)]],
    ['interference check', interferenceBlocks(validation)],
    ...robustnessBlocks(validation),
    ...comparisonBlocks(validation),
    ...recoveryBlocks(validation.study.index.recoveries),
  ]);
  const names = [...new Set(validation.findings.map((f) => f.characteristic))];
  return names.map((name) => {
    const own = validation.findings.filter((f) => f.characteristic === name) as [Finding, ...Finding[]];
    return characteristicSection(own, figures.get(name) ?? [], more.get(name) ?? []);
  });
}

function budgets(validation: MatrixValidation): Section {
  const shown = validation.budgets.filter((b) => shownLevel(validation.budgets, b));
  const { plan } = validation.study.index.records;
  const section = budgetSection({
    introduction: `Random parts are counted once, by the ${plan.route === 'components' ? 'components of the chain' : 'observed intermediate precision'}; a result is the mean of ${plan.resultRule.digestions} digestion(s) of one day with ${plan.resultRule.readings} readings each. Inputs are the records of the digestion nearest to the median of the level. For each analyte the budget of the level with the largest relative uncertainty is printed line by line; all of them stand in the JSON of this report.`,
    model: shown[0]?.model.model ?? null,
    entries: shown.map((b) => ({
      id: `budget/${b.analyte}/${b.level}`,
      caption: `${b.analyte}, ${b.level} level, digestion ${b.digestion}`,
      budget: b.decisive,
      // A budget that does not describe the results, for a bias it does not hold, is not compared with its target.
      target:
        b.targetPercent === null || b.finding.verdict === 'not shown'
          ? null
          : (b.targetPercent / 100) * Math.abs(b.decisive.estimate),
    })),
  });
  const shares = shown.map((b) =>
    budgetShares(
      `budget-shares/${b.analyte}`,
      `${b.analyte}, ${b.level} level: shares of the variance`,
      b.decisive,
    ),
  );
  return { ...section, blocks: [budgetOverview(validation), ...section.blocks, ...shares] };
}

/** Every figure of merit and every result at full precision. */
function reportData(validation: MatrixValidation): unknown {
  return {
    findings: validation.findings,
    fitness: validation.fitness.map(({ analyte, statement, sentence }) => ({ analyte, statement, sentence })),
    budgets: validation.budgets.map(
      ({ analyte, level, digestion, components, precision, scatter, model }) => ({
        analyte,
        level,
        digestion,
        components,
        precision,
        scatter,
        equations: model.model.equations,
      }),
    ),
    limits: validation.limits.map(({ analyte, unit, rows, excluded, detection, quantification }) => ({
      analyte,
      unit,
      rows,
      excluded,
      detection,
      quantification: quantification?.value ?? null,
    })),
    results: validation.study.results.map(
      ({ digestion, sample, kind, day, analyte, run, value, amountMg }) => ({
        digestion,
        sample,
        kind,
        day,
        analyte,
        run,
        value,
        amountMg,
      }),
    ),
  };
}
