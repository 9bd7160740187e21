import { identifier } from '../../chain/model-fragment.js';
import { quoteFound } from '../issue-list.js';
import type { EquipmentRecord } from '../study.js';
import { equipmentFile } from '../study-folder.js';
import type { StudyView } from './study-view.js';

/** The register in itself, and every use of a piece of equipment: known, in service and under certificate on the day. */
export function checkEquipment(view: StudyView): void {
  const { equipment } = view.study;
  if (equipment === null) return;
  checkRegister(view, equipment);
  const known = new Map(equipment.map((each) => [each.id, each]));
  view.each('digestions', ({ portionBalance: id, day }) => balanceProblem(known, 'portionBalance', id, day));
  view.each('digestions', ({ vesselBalance: id, day }) => balanceProblem(known, 'vesselBalance', id, day));
  checkDilutionBalances(view, known);
  view.each('history', ({ equipment: used }) => {
    const id = used.find((each) => !known.has(each));
    if (id === undefined) return null;
    const expected = `ids of ${equipmentFile}: ${[...known.keys()].join(', ')}`;
    return { code: 'unknown equipment', field: 'equipment', found: quoteFound(id), expected };
  });
}

function checkRegister(view: StudyView, equipment: readonly EquipmentRecord[]): void {
  const seen = new Set<string>();
  const balances = new Map<string, string>();
  equipment.forEach((each, i) => {
    const refuse = (key: string, found: string, expected: string) =>
      view.refuseKey(equipmentFile, `[${i}].${key}`, found, expected);
    if (seen.has(each.id)) refuse('id', quoteFound(each.id), 'an id that no other equipment bears');
    if (each.id.includes('|')) refuse('id', quoteFound(each.id), 'an id without a vertical bar');
    seen.add(each.id);
    if (each.kind === 'balance') {
      // Its sensitivity bears this name in the equations, where p and v are the balances of the portion and of the vessel.
      const inEquations = identifier(each.id);
      const other = balances.get(inEquations);
      if (other !== undefined && other !== each.id) {
        refuse('id', quoteFound(each.id), `an id with other letters or digits than ${quoteFound(other)}`);
      }
      if (['p', 'v'].includes(inEquations)) refuse('id', quoteFound(each.id), 'an id of more than p or v');
      balances.set(inEquations, each.id);
    }
    if (each.kind === 'balance' && each.balance === undefined) {
      refuse('balance', 'no such key', 'the specification of the balance');
    }
    if (each.inServiceTo !== null && each.inServiceTo < each.inServiceFrom) {
      refuse('inServiceTo', each.inServiceTo, `${each.inServiceFrom} or later`);
    }
    if (each.dueOn < each.calibratedOn) refuse('dueOn', each.dueOn, `${each.calibratedOn} or later`);
  });
}

/** A dilution bears no day of its own: it is weighed on that of its digestion. A digestion that is not there is told elsewhere. */
function checkDilutionBalances(view: StudyView, known: ReadonlyMap<string, EquipmentRecord>): void {
  if (view.records('dilutions').every(({ balance }) => balance === '')) return;
  const days = new Map(view.records('digestions').map(({ digestion, day }) => [digestion, day]));
  view.each('dilutions', ({ balance, digestion }) =>
    balance === '' ? null : balanceProblem(known, 'balance', balance, days.get(digestion)),
  );
}

/** @param day without it, only that the register holds such a balance is looked at */
function balanceProblem<const F extends 'portionBalance' | 'vesselBalance' | 'balance'>(
  known: ReadonlyMap<string, EquipmentRecord>,
  field: F,
  id: string,
  day: string | undefined,
) {
  const balance = known.get(id);
  if (balance === undefined || balance.kind !== 'balance') {
    return { code: 'unknown balance', field, expected: `the id of a balance in ${equipmentFile}` };
  }
  if (day === undefined) return null;
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
