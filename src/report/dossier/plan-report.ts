import type { PlannedPower, ValidationPlan } from '../../studies/planning/plan-validation.js';
import { column, countCell, number, text } from '../cells.js';
import type { Block, Cell, ReportDocument, Section, Table } from '../document.js';
import { powerByDays } from '../figures/power-by-days.js';
import { inReportedForm } from '../reported-form.js';
import { listOf, paragraph, sectionOf } from '../section-of.js';
import { cautionsSection } from '../sections/cautions-section.js';
import { analyteName } from '../sections/finding-order.js';
import { criteriaTable } from '../sections/plan-section.js';
import { provenanceSection } from '../sections/provenance-section.js';
import { signaturesSection } from '../sections/signatures-section.js';
import { expectationsSection } from './plan-expectations.js';
import { type DossierContext, inventedBanner } from './validation-report.js';

/**
 * The plan of a validation: its size, what it costs, with which probability each criterion will be shown and what will stay open.
 *
 * @see ISO/IEC 17025:2017, 7.2.2.1 and 7.2.2.4 a, b
 */
export function planReport(found: ValidationPlan, context: DossierContext): ReportDocument {
  const proposal = asReported(found);
  const { plan } = proposal;
  return {
    title: `Plan: ${plan.title}`,
    subtitle: `${plan.laboratory}, ${plan.line}, method ${plan.method}`,
    banner: plan.invented ? inventedBanner : '',
    facts: [
      { name: 'Matrix', value: plan.matrix },
      { name: 'Intended use', value: plan.intendedUse },
      { name: 'Plan of', value: `${plan.planDate}, ${plan.planOwner}` },
      { name: 'Release', value: 'not by this report: an authorised person decides and signs' },
    ],
    sections: [
      proposalSection(proposal),
      costSection(proposal),
      powerSection(proposal),
      openSection(proposal),
      expectationsSection(proposal),
      sectionOf({
        id: 'plan',
        heading: 'Criteria',
        clause: 'ISO/IEC 17025:2017, 7.2.2.4 a, b',
        blocks: [criteriaTable(plan)],
      }),
      cautionsSection(),
      signaturesSection(),
      provenanceSection(context.provenance),
    ],
    data: {
      numbers: found.numbers,
      cost: found.cost,
      criteria: found.criteria,
      unplanned: found.unplanned,
      allShownAtLeast: found.allShownAtLeast,
    },
  };
}

/** The same for a reader: each analyte in the form that is reported. */
function asReported(proposal: ValidationPlan): ValidationPlan {
  const { plan, planning, criteria, outOfReach, unplanned, powerByDays: curves } = proposal;
  return {
    ...proposal,
    plan: { ...plan, criteria: inReportedForm(plan, plan.criteria) },
    planning: { ...planning, expectations: inReportedForm(plan, planning.expectations) },
    criteria: inReportedForm(plan, criteria),
    outOfReach: inReportedForm(plan, outOfReach),
    unplanned: inReportedForm(plan, unplanned),
    powerByDays: inReportedForm(plan, curves),
  };
}

function percent(probability: number): string {
  return `${Number((100 * probability).toPrecision(3))} %`;
}

function proposalSection({
  plan,
  planning,
  numbers,
  criteria,
  outOfReach,
  allShownAtLeast,
}: ValidationPlan): Section {
  const levels = plan.levels.map(({ level, sample }) => `${level} (${sample})`).join(', ');
  const reach =
    outOfReach.length === 0
      ? `Each of ${criteria.length} criteria is then shown with a probability of at least ${percent(planning.power)}, all of them together with at least ${percent(allShownAtLeast)}, if the expectations below are right.`
      : `${criteria.length - outOfReach.length} of ${criteria.length} criteria are then shown with a probability of at least ${percent(planning.power)} each, if the expectations below are right. ${outOfReach.length} cannot be reached within the bounds of the plan: see “What this plan will not show”.`;
  return sectionOf({
    id: 'proposal',
    heading: 'Proposed size',
    clause: 'ISO/IEC 17025:2017, 7.2.2.1',
    blocks: [
      {
        kind: 'facts',
        facts: [
          {
            name: 'Precision',
            value: `${numbers.days} days × ${numbers.digestionsPerDay} digestions of each level: ${levels}`,
          },
          {
            name: 'Readings',
            value: `${plan.resultRule.readings} of each digestion; a result is the mean of ${plan.resultRule.digestions} digestions of one day`,
          },
          {
            name: 'Trueness',
            value: `${planning.referenceMaterials} reference materials, ${plan.resultRule.digestions} digestions of each on every day`,
          },
          {
            name: 'Additions',
            value: `${numbers.spikes} before fusion and ${numbers.spikes} after dissolution, each on a day of its own where possible`,
          },
          {
            name: 'Procedure blanks',
            value: `${numbers.blanks}, over at least 5 runs, best each in a run of its own`,
          },
          { name: 'Calibration', value: `one in each of ${numbers.days} runs` },
        ],
      },
      paragraph(reach),
      paragraph(
        'These are the fewest that suffice by the figures below. A number that the plan names itself, such as in the reason of a criterion, is what its owner wants done; where the two differ, the larger one is to be done.',
      ),
      paragraph(
        'Fewer than 5 days or 6 procedure blanks are never proposed: with fewer, precision and limits count as not shown whatever their values (rule of this workbench, common practice). Plan some digestions more than this: what is lost on the way narrows nothing.',
      ),
    ],
  });
}

function costSection({ work, cost }: ValidationPlan): Section {
  const row = (name: string, count: number): Cell[] => [text(name), countCell(count)];
  const table: Table = {
    kind: 'table',
    id: 'cost/digestions',
    caption: 'Digestions of the plan by their use',
    columns: [column('Use'), column('Digestions')],
    rows: [
      row('precision', work.days * work.levels * work.digestionsPerDay),
      row('reference materials', work.referenceDigestions),
      row('additions at both stages', work.spikes),
      row('procedure blanks', work.blanks),
      row('memory, stability, native check, ruggedness', work.otherDigestions),
      row('in all', cost.digestions),
    ],
    notes: [],
  };
  const fits = cost.fits
    ? `Spread evenly, a day bears ${cost.digestionsOfADay} digestions; the line does ${work.digestionsADay}.`
    : `Spread evenly, a day would bear ${cost.digestionsOfADay} digestions, but the line does ${work.digestionsADay}: the work needs more days than the criteria do.`;
  return sectionOf({
    id: 'cost',
    heading: 'What it costs',
    blocks: [
      table,
      paragraph(
        `${Number(cost.furnaceHours.toPrecision(3))} furnace hours (${work.cruciblesAtOnce} crucible(s) at once, up to ${work.minutesPerFusion} min a fusion), ${cost.calibrations} calibrations, ${cost.readings} readings of digestions. ${fits}`,
      ),
    ],
  });
}

function powerSection({ criteria, powerByDays: curves, planning }: ValidationPlan): Section {
  const table: Table = {
    kind: 'table',
    id: 'power/criteria',
    caption:
      'Each criterion: what is expected, the fewest numbers that show it, and the probability with which the whole plan does',
    columns: [
      column('Characteristic'),
      column('Analyte'),
      column('Level'),
      column('Unit'),
      column('Allowed'),
      column('Expected'),
      column('Needs by itself'),
      column('Probability that it is shown', '%'),
    ],
    rows: gathered(criteria).map(rowOf),
    notes: [
      'Allowed and expected are standard deviations for precision, absolute deviations for trueness, recovery and linearity, and contents for the limit of quantification.',
      'A criterion is shown where its one-sided 95 % limit clears it; the probability is worked out from the distribution of that limit.',
    ],
    groupedBy: 0,
  };
  const [first] = curves;
  const figure: Block[] =
    first === undefined
      ? []
      : [
          powerByDays(
            'power/days',
            `Intermediate precision of ${first.analyte}, ${first.level} level, the hardest to show: probability by days and digestions a day`,
            curves,
            planning.power,
          ),
        ];
  return sectionOf({
    id: 'power',
    heading: 'What it will show',
    startsPage: true,
    blocks: [...figure, table],
  });
}

/** By characteristic; levels of one analyte that agree in every figure stand in one row. */
function gathered(criteria: readonly PlannedPower[]): PlannedPower[] {
  const rows = new Map<string, PlannedPower>();
  for (const c of criteria) {
    const key = [c.characteristic, c.analyte, c.unit, c.allowed, c.expected, c.needs, c.power].join('|');
    const former = rows.get(key);
    rows.set(key, former === undefined ? c : { ...former, level: `${former.level}, ${c.level}` });
  }
  const names = [...new Set(criteria.map((c) => c.characteristic))];
  return names.flatMap((name) => [...rows.values()].filter((c) => c.characteristic === name));
}

function rowOf(c: PlannedPower): Cell[] {
  return [
    text(c.characteristic),
    text(c.analyte),
    text(c.level === '*' ? 'all levels' : c.level),
    text(c.unit),
    number(c.allowed, 3),
    number(c.expected, 3),
    c.needs === null ? { kind: 'empty', reason: 'out of reach' } : text(c.needs),
    c.power > 0.9995 ? text('above 99.9') : number(100 * c.power, 3),
  ];
}

function openSection({ outOfReach, unplanned, planning }: ValidationPlan): Section {
  return sectionOf({
    id: 'open',
    heading: 'What this plan will not show',
    blocks: [
      ...(outOfReach.length === 0
        ? [paragraph('No criterion with an expectation is out of reach.')]
        : [
            paragraph(
              `Within ${planning.mostDays} days and ${planning.mostDigestionsPerDayAndLevel} digestions a day and level these stay below the wanted probability. A smaller spread, a better reference material or another criterion is needed, not more of the same work.`,
            ),
            ...listOf(
              outOfReach.map(
                (c) =>
                  `${c.characteristic} of ${c.analyte}${c.level === '*' ? '' : `, ${c.level} level`}: ${Number(c.allowed.toPrecision(3))} ${c.unit} allowed, ${Number(c.expected.toPrecision(3))} ${c.unit} expected; ${percent(c.power)} with the proposed numbers.`,
              ),
            ),
          ]),
      {
        kind: 'table',
        id: 'open/not-by-number',
        caption: 'Criteria whose size does not follow from days, additions or blanks',
        columns: [column('Characteristic'), column('Analyte'), column('Level'), column('Why')],
        rows: unplanned.map((u) => [
          text(u.characteristic === 'all' ? 'every criterion' : u.characteristic),
          text(analyteName(u.analyte)),
          text(u.level === '*' ? 'all levels' : u.level),
          text(u.reason),
        ]),
        notes: [],
      },
    ],
  });
}
