import type { StudyRecovery } from '../../studies/recovery/study-recovery.js';
import { column, countCell, degreesOfFreedomCell, number, text } from '../cells.js';
import type { Block, Table } from '../document.js';

/** By characteristic: the recoveries that results are divided by, beside what is judged on the same records. */
export function recoveryBlocks(
  recoveries: ReadonlyMap<string, StudyRecovery> | undefined,
): ReadonlyMap<string, readonly Block[]> {
  const all = [...(recoveries?.values() ?? [])];
  const from = (source: StudyRecovery['planned']['from']) =>
    all.filter((each) => each.planned.from === source);
  return new Map([
    ['trueness', tableOf('trueness', from('reference materials'))],
    ['recovery before fusion', tableOf('recovery-before-fusion', from('additions before fusion'))],
  ]);
}

function tableOf(place: string, recoveries: readonly StudyRecovery[]): Table[] {
  if (recoveries.length === 0) return [];
  return [
    {
      kind: 'table',
      id: `${place}/recovery-applied`,
      caption: 'Recovery R of each analyte by the plan, its test against 1, and what results are divided by',
      columns: [
        column('Analyte'),
        column('From'),
        column('Digestions'),
        column('Days'),
        column('Mean recovery R'),
        column('Standard uncertainty of R'),
        column('of it by scatter'),
        column('of it by reference values'),
        column('Degrees of freedom'),
        column('t = |1 − R|/u(R)'),
        column('Value of t at 95 %, two-sided'),
        column('Results divided by'),
      ],
      rows: recoveries.map((each) => [
        text(each.planned.analyte),
        text(each.planned.materials?.join(', ') ?? each.planned.from),
        countCell(each.digestions.length),
        countCell(each.byDay.length),
        number(each.mean, 5),
        number(each.standardUncertainty, 2),
        number(each.observedStandardUncertainty, 2),
        number(each.referenceStandardUncertainty, 2),
        degreesOfFreedomCell(each.degreesOfFreedom, 'not limited'),
        number(each.significance.t, 3),
        number(each.significance.criticalValue, 3),
        number(each.factor.estimate, each.applied ? 5 : 1),
      ]),
      notes: [
        'QUAM:2012, example A4 (clause from memory). Where R is not applied its uncertainty still stands in the budget.',
        'Records that gave an applied recovery prove neither trueness nor the recovery after the correction.',
      ],
    },
  ];
}

/** What results are divided by, as a fact on the first page; none where nothing is corrected. */
export function recoveryFacts(
  recoveries: ReadonlyMap<string, StudyRecovery> | undefined,
): readonly { readonly name: string; readonly value: string }[] {
  const lines = [...(recoveries?.values() ?? [])].map(({ planned, applied, mean }) => {
    const source = planned.materials?.join(', ') ?? planned.from;
    const done = applied
      ? `divided by ${mean.toPrecision(5)}`
      : 'not significantly different from 1, not divided';
    return `${planned.analyte} (from ${source}): ${done}`;
  });
  return lines.length === 0 ? [] : [{ name: 'Correction for recovery', value: lines.join('; ') }];
}
