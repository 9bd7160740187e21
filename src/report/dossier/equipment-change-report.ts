import type { StudyPlan } from '../../records/study.js';
import type { BudgetChange, EquipmentChange } from '../../studies/equipment-change.js';
import type { MatrixValidation } from '../../studies/matrix/validate-matrix.js';
import { controlFlags, controlLines } from '../../validation/change/control-flags.js';
import type { Finding } from '../../validation/finding.js';
import { column, countCell, number, text } from '../cells.js';
import type { Cell, Figure, ReportDocument, Section, Table } from '../document.js';
import { budgetComparison } from '../figures/budget-comparison.js';
import { controlChart } from '../figures/control-chart.js';
import { inReportedForm, reportedForm } from '../reported-form.js';
import { paragraph, sectionOf } from '../section-of.js';
import { cautionsSection } from '../sections/cautions-section.js';
import { characteristicSection } from '../sections/characteristic-section.js';
import { equipmentSection } from '../sections/equipment-section.js';
import { provenanceSection } from '../sections/provenance-section.js';
import { recordsSection } from '../sections/records-section.js';
import { selfCheckSection } from '../sections/self-check-section.js';
import { signaturesSection } from '../sections/signatures-section.js';
import { verdictsSection } from '../sections/verdicts-section.js';
import { affectedSection, blockedSection } from './equipment-change-sections.js';
import { periodOfWork } from './period-of-work.js';
import { type DossierContext, inventedBanner } from './validation-report.js';

/**
 * Report on an exchange of equipment: verdicts, what must be shown again, budgets and control results before and after.
 *
 * @see ISO/IEC 17025:2017, 6.4.4 and 7.2.2.2
 */
export function equipmentChangeReport(
  validation: MatrixValidation,
  found: EquipmentChange,
  context: DossierContext,
): ReportDocument {
  const { records } = validation.study.index;
  const { plan } = records;
  const change = asReported(plan, found);
  const period = periodOfWork(
    records,
    change.controls.flatMap((c) => [...c.before, ...c.after].map((r) => r.date)),
  );
  return {
    title: `${change.replacement.id} in place of ${change.replaced.id}`,
    subtitle: `${plan.laboratory}, ${plan.line}, method ${plan.method}`,
    banner: plan.invented ? inventedBanner : '',
    facts: [
      { name: 'Taken out', value: `${change.replaced.id}: ${change.replaced.description}` },
      { name: 'Put in its place', value: `${change.replacement.id}: ${change.replacement.description}` },
      { name: 'Certificate', value: `${change.replacement.certificate}, due ${change.replacement.dueOn}` },
      { name: 'Records of', value: `${period.firstDay} to ${period.lastDay}, control results with them` },
      { name: 'Release', value: 'not by this report: an authorised person decides and signs' },
    ],
    sections: [
      verdictsSection(change.findings),
      blockedSection(change),
      affectedSection(change),
      budgetsSection(change),
      sectionOf({
        id: 'characteristics',
        heading: 'Findings',
        blocks: [],
        sections: findingSections(change),
      }),
      equipmentSection(records.equipment, period),
      recordsSection(context.files, records.missingTables),
      selfCheckSection(context.selfCheck),
      cautionsSection(),
      signaturesSection(),
      provenanceSection(context.provenance),
    ],
    data: {
      findings: found.findings,
      budgets: found.budgets,
      affected: found.affected,
      blocked: change.blocked,
      certificateGaps: change.certificateGaps,
    },
  };
}

/** The same for a reader: each analyte in the form that is reported. */
function asReported(plan: StudyPlan, change: EquipmentChange): EquipmentChange {
  const names = (analytes: readonly string[]) => analytes.map((analyte) => reportedForm(plan, analyte));
  return {
    ...change,
    findings: inReportedForm(plan, change.findings),
    budgets: inReportedForm(plan, change.budgets),
    controls: inReportedForm(plan, change.controls),
    affected: change.affected.map((a) => ({
      ...a,
      controls: a.controls && {
        compared: names(a.controls.compared),
        notCompared: names(a.controls.notCompared),
      },
    })),
  };
}

function budgetsSection({ budgets, replacement }: EquipmentChange): Section {
  if (budgets.length === 0) {
    const why = `The contributions of ${replacement.id} are evaluated from its own readings: budgets follow from its validation, not from a certificate.`;
    return sectionOf({ id: 'budgets', heading: 'Budgets before and after', blocks: [paragraph(why)] });
  }
  const most = budgets.reduce((a, b) => (growth(b) > growth(a) ? b : a));
  return sectionOf({
    id: 'budgets',
    heading: 'Budgets before and after',
    clause: 'ISO/IEC 17025:2017, 7.6.1',
    blocks: [
      paragraph(
        'By the components of the chain, with the same records: only the inputs of the equipment differ. Contributions that do not depend on it are equal to the last bit.',
      ),
      overviewTable(budgets),
      budgetComparison(
        'budgets/comparison',
        growth(most) === 0
          ? `${most.analyte}, ${most.level} level, as an example of no change: contributions before and after`
          : `${most.analyte}, ${most.level} level, where the change is largest: contributions before and after`,
        most.before,
        most.after,
      ),
      most.changed.length === 0
        ? paragraph('No contribution differs: both certificates give the same figures for these weighings.')
        : changedTable(most),
    ],
  });
}

function growth({ before, after }: BudgetChange): number {
  return Math.abs(after.standardUncertainty / before.standardUncertainty - 1);
}

function overviewTable(budgets: readonly BudgetChange[]): Table {
  const relative = (b: BudgetChange['before']) => (100 * b.expandedUncertainty) / Math.abs(b.estimate);
  return {
    kind: 'table',
    id: 'budgets/overview',
    caption: 'Relative expanded uncertainty of a result (95 %) before and after',
    columns: [
      column('Analyte'),
      column('Level'),
      column('Before', '%'),
      column('After', '%'),
      column('Contributions changed'),
      column('Contributions equal to the bit'),
    ],
    rows: budgets.map((b): Cell[] => [
      text(b.analyte),
      text(b.level),
      number(relative(b.before), 3),
      number(relative(b.after), 3),
      countCell(b.changed.length),
      countCell(b.untouched),
    ]),
    notes: outsideNotes(budgets),
    groupedBy: 0,
  };
}

/** What no budget of an analyte holds, before the exchange or after. */
function outsideNotes(budgets: readonly BudgetChange[]): string[] {
  const found = new Map(
    budgets.flatMap((b) => (b.outsideBudget === null ? [] : [[b.analyte, b.outsideBudget]])),
  );
  return [...found].map(
    ([analyte, why]) =>
      `${analyte}: ${why} Its budgets, before and after, do not hold this; they describe its scatter, not the uncertainty of its results.`,
  );
}

function changedTable({ analyte, level, before, changed }: BudgetChange): Table {
  return {
    kind: 'table',
    id: 'budgets/changed',
    caption: `${analyte}, ${level} level: contributions that differ, largest first`,
    columns: [
      column('Input'),
      column('Quantity'),
      column('Before', before.unit),
      column('After', before.unit),
    ],
    rows: changed.map((c): Cell[] => [
      text(c.name),
      text(c.after.input.description),
      number(c.before.contribution, 3),
      number(c.after.contribution, 3),
    ]),
    notes: [],
  };
}

function findingSections(change: EquipmentChange): Section[] {
  const names = [...new Set(change.findings.map((f) => f.characteristic))];
  return names.map((name) => {
    const own = change.findings.filter((f) => f.characteristic === name) as [Finding, ...Finding[]];
    return characteristicSection(own, name === 'shift after change' ? charts(change) : []);
  });
}

function charts({ controls, replaced, replacement }: EquipmentChange): Figure[] {
  return controls.map(({ analyte, comparison, before, after }, i) => {
    const materialsAhead = controls.slice(0, i).filter((each) => each.analyte === analyte).length;
    const period = (
      name: string,
      { mean, standardDeviation }: typeof comparison.before,
      rows: typeof before,
    ) => {
      const inTime = [...rows].sort(
        (one, other) => Number(one.date > other.date) - Number(one.date < other.date),
      );
      const flags =
        standardDeviation > 0
          ? controlFlags(
              inTime.map((r) => r.value),
              { centre: mean, standardDeviation },
            )
          : [];
      return {
        name,
        points: inTime.map((r, at) => ({
          label: `${r.date} ${r.run}`,
          value: r.value,
          flag: flags[at] ?? '',
        })),
        centre: mean,
        warning: controlLines.warning * standardDeviation,
        action: controlLines.action * standardDeviation,
      };
    };
    return controlChart({
      id: materialsAhead === 0 ? `control/${analyte}` : `control/${analyte}/${materialsAhead + 1}`,
      caption: `${analyte} in ${after[0]!.material}: control results before and after`,
      unit: after[0]!.unit,
      periods: [
        period(replaced.id, comparison.before, before),
        period(replacement.id, comparison.after, after),
      ],
      notes: [flagRule],
    });
  });
}

/** How results are flagged, for the notes of a chart. */
const flagRule =
  'Lines: mean of the period ± 2 s (warning) and ± 3 s (action), s from the same results. Flagged: a result beyond a line, and the second of three successive ones beyond one warning line, which calls for action as one beyond the action line does (ISO 7870-2 and common practice, from memory). If nothing is wrong, about 1 result in 22 lies beyond a warning line and 1 in 370 beyond an action line; the verdict on the change rests on the means and standard deviations, not on flags.';
