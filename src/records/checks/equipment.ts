import { quoteFound } from '../issue-list.js';
import type { EquipmentRecord } from '../study.js';
import { equipmentFile } from '../study-folder.js';
import type { DigestionRecord } from '../tables/digestions.js';
import type { CellProblem } from './cell-problem.js';
import type { StudyView } from './study-view.js';

/** The register in itself, and every use of a piece of equipment: known, in service and under certificate on the day. */
export function checkEquipment(view: StudyView): void {
  const { equipment } = view.study;
  if (equipment === null) return;
  checkRegister(view, equipment);
  const known = new Map(equipment.map((each) => [each.id, each]));
  view.each('digestions', (record) => balanceProblem(known, record, 'portionBalance'));
  view.each('digestions', (record) => balanceProblem(known, record, 'vesselBalance'));
  view.each('history', ({ equipment: used }) => {
    const id = used.find((each) => !known.has(each));
    if (id === undefined) return null;
    const expected = `ids of ${equipmentFile}: ${[...known.keys()].join(', ')}`;
    return { code: 'unknown equipment', field: 'equipment', found: quoteFound(id), expected };
  });
}

function checkRegister(view: StudyView, equipment: readonly EquipmentRecord[]): void {
  const seen = new Set<string>();
  equipment.forEach((each, i) => {
    const refuse = (key: string, found: string, expected: string) =>
      view.refuseKey(equipmentFile, `[${i}].${key}`, found, expected);
    if (seen.has(each.id)) refuse('id', quoteFound(each.id), 'an id that no other equipment bears');
    if (each.id.includes('|')) refuse('id', quoteFound(each.id), 'an id without a vertical bar');
    seen.add(each.id);
    if (each.kind === 'balance' && each.balance === undefined) {
      refuse('balance', 'no such key', 'the specification of the balance');
    }
    if (each.inServiceTo !== null && each.inServiceTo < each.inServiceFrom) {
      refuse('inServiceTo', each.inServiceTo, `${each.inServiceFrom} or later`);
    }
    if (each.dueOn < each.calibratedOn) refuse('dueOn', each.dueOn, `${each.calibratedOn} or later`);
  });
}

function balanceProblem(
  known: ReadonlyMap<string, EquipmentRecord>,
  record: DigestionRecord,
  field: 'portionBalance' | 'vesselBalance',
): CellProblem<DigestionRecord> | null {
  const { day } = record;
  const id = record[field];
  const balance = known.get(id);
  if (balance === undefined || balance.kind !== 'balance') {
    return { code: 'unknown balance', field, expected: `the id of a balance in ${equipmentFile}` };
  }
  const { inServiceFrom, inServiceTo, calibratedOn, dueOn } = balance;
  if (day < inServiceFrom || (inServiceTo !== null && day > inServiceTo)) {
    const service =
      inServiceTo === null ? `from ${inServiceFrom} on` : `from ${inServiceFrom} to ${inServiceTo}`;
    const found = `${quoteFound(id)} on ${day}`;
    return {
      code: 'not in service',
      field,
      found,
      expected: `a balance in service that day (it is ${service})`,
    };
  }
  if (day >= calibratedOn && day <= dueOn) return null;
  const expected = `a balance whose certificate holds that day (${calibratedOn} to ${dueOn})`;
  return { code: 'certificate', field, found: `${quoteFound(id)} on ${day}`, expected };
}
