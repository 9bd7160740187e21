import type { Balance } from '../chain/balance.js';
import type { StatedFactor } from '../chain/model-fragment.js';
import { InputError } from '../errors.js';
import type { StatedInput } from '../records/study.js';
import type { StudyIndex } from './study-index.js';

/** @throws InputError a balance that the register does not hold */
export function balanceOf(index: StudyIndex, id: string): Balance {
  const balance = index.balances.get(id);
  if (balance === undefined)
    throw new InputError(`balance ${id}: expected a balance of the equipment register`);
  return balance;
}

/** The stated input for an analyte; one that names the analyte outranks one for all. */
export function stated(index: StudyIndex, name: StatedInput['name'], analyte: string): StatedFactor | null {
  const inputs = index.records.plan.statedInputs.filter((s) => s.name === name);
  const own = inputs.find((s) => s.analyte === analyte);
  if (own !== undefined) return own;
  const common = inputs.find((s) => s.analyte === '*');
  if (common === undefined) return null;
  const { estimate, standardUncertainty, distribution, source } = common;
  return { estimate, standardUncertainty, distribution, source };
}
