import type { Correlation, InputQuantity } from '../input-quantity.js';
import { exactValue } from '../inputs/exact-value.js';
import { fromCertificate } from '../inputs/from-certificate.js';
import { fromCounts } from '../inputs/from-counts.js';
import { fromJudgement } from '../inputs/from-judgement.js';
import { fromLimits } from '../inputs/from-limits.js';
import { fromRecords } from '../inputs/from-records.js';
import { described } from '../inputs/input-description.js';
import { jointFromRecords } from '../inputs/joint-from-records.js';
import type { BudgetFile, BudgetFileInput } from './budget-file.js';

/**
 * Input quantities and correlations that a budget file states, those of joint observations included.
 *
 * @throws InputError what a quantity cannot be made of
 */
export function inputsOfBudgetFile(file: Pick<BudgetFile, 'inputs' | 'correlations'>): {
  readonly inputs: readonly InputQuantity[];
  readonly correlations: readonly Correlation[];
} {
  const correlations = [...jointCorrelations(file.inputs), ...(file.correlations ?? [])];
  return { inputs: file.inputs.map(inputOf), correlations };
}

/** @throws InputError what the quantity cannot be made of */
export function inputOf(stated: BudgetFileInput): InputQuantity {
  switch (stated.from) {
    case 'certificate':
      return fromCertificate(stated);
    case 'limits':
      return fromLimits(stated);
    case 'observations':
      return withSource(fromRecords(stated), stated.jointSource);
    case 'judgement':
      return fromJudgement(stated);
    case 'counts':
      return fromCounts(stated);
    case 'definition':
      return exactValue(stated);
    case 'statement': {
      const made: InputQuantity = {
        ...described(stated),
        estimate: stated.estimate,
        standardUncertainty: stated.standardUncertainty,
        degreesOfFreedom: stated.degreesOfFreedom ?? Infinity,
        distribution: stated.distribution ?? { kind: 'normal' },
        evaluation: stated.evaluation ?? 'B',
        sourceKind: stated.sourceKind,
      };
      return withSource(made, stated.jointSource);
    }
  }
}

function withSource(input: InputQuantity, jointSource: string | undefined): InputQuantity {
  return jointSource === undefined ? input : { ...input, jointSource };
}

function jointCorrelations(inputs: readonly BudgetFileInput[]): Correlation[] {
  const sets = new Map<string, (BudgetFileInput & { from: 'observations' })[]>();
  for (const input of inputs) {
    if (input.from !== 'observations' || input.jointSource === undefined) continue;
    sets.set(input.jointSource, [...(sets.get(input.jointSource) ?? []), input]);
  }
  return [...sets].flatMap(([name, quantities]) => [...jointFromRecords(name, quantities).correlations]);
}
