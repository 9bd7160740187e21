import type { SourceFile } from '../../records/decoded-study.js';
import { leftUnused } from '../../records/left-unused.js';
import { otherRuleText } from '../../studies/decision-rule.js';
import type { RoutineResults } from '../../studies/routine-results/routine-results.js';
import { covarianceMatrixOf } from '../../uncertainty/correlated-results/correlated-result.js';
import type { Block, ReportDocument, Section } from '../document.js';
import { reportedForm } from '../reported-form.js';
import { listOf, paragraph, sectionOf } from '../section-of.js';
import { cautionsSection } from '../sections/cautions-section.js';
import { exclusionsSection } from '../sections/exclusions-section.js';
import { provenanceSection } from '../sections/provenance-section.js';
import { recordsSection } from '../sections/records-section.js';
import { selfCheckSection } from '../sections/self-check-section.js';
import { signaturesSection } from '../sections/signatures-section.js';
import { routineConditions } from './fitness-conditions.js';
import { fusionSection } from './fusion-blocks.js';
import { routineFacts } from './routine-facts.js';
import {
  conformityTable,
  controlsTable,
  correlationTable,
  figuresTable,
  flagsTable,
  ofValidationFlag,
  overviewTable,
} from './routine-tables.js';
import { totalsSection } from './totals-section.js';
import { type DossierContext, inventedBanner } from './validation-report.js';

/**
 * Report of a routine run: whether its controls passed, results with uncertainty, flags, conformity, totals.
 *
 * @see ISO/IEC 17025:2017, 7.7.1, 7.8.2, 7.8.3, 7.8.6
 */
export function routineReport(
  results: RoutineResults,
  context: DossierContext & { readonly validationFiles: readonly SourceFile[] },
): ReportDocument {
  const { records } = results.run.index;
  const { plan } = records;
  return {
    title: plan.title,
    subtitle: `${plan.laboratory}, ${plan.line}, method ${plan.method}`,
    banner: plan.invented ? inventedBanner : '',
    facts: routineFacts(results),
    sections: [
      acceptanceSection(results),
      sectionOf({
        id: 'results',
        heading: 'Results',
        clause: 'ISO/IEC 17025:2017, 7.8.2, 7.8.3',
        blocks: [overviewTable(results)],
      }),
      flagsSection(results),
      conditionsSection(results),
      conformitySection(results),
      totalsSection(results),
      sectionOf({
        id: 'controls',
        heading: 'Controls of the run',
        clause: 'ISO/IEC 17025:2017, 7.7.1',
        blocks: [controlsTable(results)],
      }),
      ...fusionSection(records),
      exclusionsSection(records.exclusions, leftUnused(plan, records)),
      sectionOf({
        id: 'figures',
        heading: 'All figures',
        blocks: [
          paragraph(
            'u holds the run’s own calibration, readings, weighings and blanks, and the scatter of digestions and days that the validation found; results of one digestion, one day and one run share what they have in common.',
          ),
          figuresTable(results),
          ...correlationBlocks(results),
        ],
      }),
      recordsSection([...context.files, ...context.validationFiles.map(ofValidation)], records.missingTables),
      selfCheckSection(context.selfCheck),
      cautionsSection(),
      signaturesSection(),
      provenanceSection(context.provenance),
    ],
    data: dataOf(results),
  };
}

function ofValidation(file: SourceFile): SourceFile {
  return { ...file, file: `validation: ${file.file}` };
}

function acceptanceSection(results: RoutineResults): Section {
  const failed = results.controls.filter((c) => !c.passed);
  return sectionOf({
    id: 'acceptance',
    heading: 'Is the run accepted?',
    clause: 'ISO/IEC 17025:2017, 7.7.1',
    blocks: [
      ...(failed.length === 0
        ? [paragraph(`All ${results.controls.length} controls of the run passed.`)]
        : [
            {
              kind: 'caution' as const,
              text: `${failed.length} of ${results.controls.length} controls failed or were not made (all of them stand in the section “Controls of the run”). What rests on them is held or remarked below; whether the run is repeated is decided by an authorised person.`,
            },
            ...listOf(
              failed.map((c) => {
                if (c.found === null || c.unit === 'changes') return `${c.control}, ${c.about}: ${c.rule}.`;
                const shown = (value: number) => String(Number(value.toPrecision(4))).replace('-', '−');
                const low = c.low === null ? '' : `, lowest allowed ${shown(c.low)}`;
                const high = c.high === null ? '' : `, highest allowed ${shown(c.high)}`;
                return `${c.control}, ${c.about}: ${shown(c.found)} ${c.unit}${low}${high}.`;
              }),
            ),
          ]),
    ],
  });
}

function flagsSection(results: RoutineResults): Section {
  const remarks = [
    ...new Set(
      results.results.flatMap((r) =>
        r.flags
          .filter((f) => !f.holds)
          .map((f) => `${ofValidationFlag(f) ? 'validation' : f.kind}: ${f.text}`),
      ),
    ),
  ];
  return sectionOf({
    id: 'flags',
    heading: 'Flags',
    clause: 'ISO/IEC 17025:2017, 7.10.1',
    blocks: [
      paragraph(
        'A flagged result is held as it is: it is not averaged away, corrected or left out by the program.',
      ),
      flagsTable(results),
      ...(remarks.length === 0
        ? []
        : [
            paragraph(
              'Remarks that hold no single result back; the person who releases the results decides whether they bear on them:',
            ),
            ...listOf(remarks),
          ]),
    ],
  });
}

/** What the validation binds its statement to; each result that does not keep it bears a flag. */
function conditionsSection({ validation, run }: RoutineResults): Section {
  return sectionOf({
    id: 'conditions',
    heading: 'Conditions of the validation',
    clause: 'ISO/IEC 17025:2017, 7.2.2.4 e',
    blocks: [
      paragraph(
        'What the validation found holds under these conditions. Ranges, times to reading and what a crucible held before are checked for each result; one that does not keep them is flagged above. What a crucible held before its first digestion of the run is not in these records.',
      ),
      ...listOf(routineConditions(validation, run.index.records)),
    ],
  });
}

function conformitySection(results: RoutineResults): Section {
  const { plan } = results.run.index.records;
  const { specifications } = plan.routine!;
  const other = otherRuleText(plan, results.validation.study.index.records.plan);
  const limits = specifications.map(
    ({ analyte, lower, upper, unit, document }) =>
      `${reportedForm(plan, analyte)}: ${lower === null ? '' : `at least ${lower} `}${lower !== null && upper !== null ? 'and ' : ''}${upper === null ? '' : `at most ${upper} `}${unit} (${document}).`,
  );
  return sectionOf({
    id: 'conformity',
    heading: 'Conformity',
    clause: 'ISO/IEC 17025:2017, 7.8.6',
    blocks:
      specifications.length === 0
        ? [paragraph('The plan of the run names no specification: no conformity is stated.')]
        : [
            paragraph(
              `Decision rule of this run: ${plan.decisionRule}. Held results are not decided. ${other}`.trim(),
            ),
            ...listOf(limits),
            conformityTable(results),
          ],
  });
}

function correlationBlocks(results: RoutineResults): Block[] {
  const table = correlationTable(results);
  return table === null ? [] : [table];
}

function dataOf({ controls, accepted, results, totals }: RoutineResults): unknown {
  const samples = [...new Set(results.map((r) => r.sample))];
  return {
    accepted,
    controls,
    results: results.map(({ correlated: _, effectiveDegreesOfFreedom, ...rest }) => ({
      ...rest,
      effectiveDegreesOfFreedom:
        effectiveDegreesOfFreedom !== null && Number.isFinite(effectiveDegreesOfFreedom)
          ? effectiveDegreesOfFreedom
          : null,
    })),
    totals,
    covariances: samples.map((sample) => {
      const own = results.filter((r) => r.sample === sample && r.correlated !== null);
      return {
        sample,
        analytes: own.map((r) => r.analyte),
        matrix: covarianceMatrixOf(own.map((r) => r.correlated!)),
      };
    }),
  };
}
