import { requireNonNegative, requirePositive } from '../../errors.js';
import type { Finding, RowReference } from '../finding.js';
import { type FindingOptions, makeFinding } from '../make-finding.js';
import { scaleOf } from '../scale.js';

export interface PortionWeighingOptions extends Omit<FindingOptions, 'unit'> {
  readonly balance: string;
  readonly portionG: number;
  readonly standardUncertaintyG: number;
  readonly rows: readonly RowReference[];
}

/**
 * Whether the balance weighs the portion well enough: relative standard uncertainty of the net mass, compared as it stands.
 *
 * @throws InputError a portion not above 0, a negative uncertainty
 * @see ISO/IEC 17025:2017, 6.4.5; USP and EURAMET cg-18 give the same idea as a minimum weight (clauses not cited)
 * @example
 * portionWeighing({ analyte: '*', level: 'portion', criterion: null, balance: 'B-1', portionG: 0.2, standardUncertaintyG: 0.0001, rows: [] }).estimate // => 0.05
 */
export function portionWeighing(options: PortionWeighingOptions): Finding {
  requirePositive(options.portionG, 'portion');
  requireNonNegative(options.standardUncertaintyG, 'standard uncertainty of the portion');
  const scale = scaleOf(options.criterion, 'g', options.portionG);
  return makeFinding(
    'weighing of the portion',
    { ...options, unit: 'g' },
    {
      quantity: `${scale.relative ? 'relative ' : ''}standard uncertainty of a portion of ${options.portionG} g on ${options.balance}`,
      unit: scale.unit,
      estimate: options.standardUncertaintyG * scale.factor,
      limits: null,
      degreesOfFreedom: null,
      n: 1,
      clause: 'ISO/IEC 17025:2017, 6.4.5',
      method: 'budget of the weighing by the law of propagation',
      rows: options.rows,
      exact: true,
    },
  );
}
