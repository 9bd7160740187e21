import { InputError, requireSameLength } from '../../errors.js';
import { mean } from '../../statistics/descriptive/mean.js';
import type { Correlation, InputQuantity } from '../input-quantity.js';
import { fromRecords, type Observations } from './from-records.js';

/** Quantities observed together, with the correlation of their means. */
export interface JointInputs {
  readonly inputs: readonly InputQuantity[];
  readonly correlations: readonly Correlation[];
}

/** Observations of one of several quantities observed together. */
export type JointObservations = Omit<Observations, 'pooled'>;

/**
 * Input quantities from simultaneous observations: row k of each belongs to row k of the others. They share one source
 * with n − 1 degrees of freedom.
 *
 * @param jointSource name of the set of observations
 * @param quantities two at least, equally many values each
 * @throws InputError as `fromRecords`; one quantity only, unequal numbers of values, a quantity without spread
 * @see JCGM 100:2008, 5.2.3 (formula 17) and H.2
 * @example
 * const about = { description: '', unit: '1', source: 'rows', step: 'reading' };
 * const pair = [{ ...about, name: 'a', values: [1, 2, 3] }, { ...about, name: 'b', values: [2, 4, 6] }];
 * jointFromRecords('rows', pair).correlations[0].coefficient // => 1
 */
export function jointFromRecords(jointSource: string, quantities: readonly JointObservations[]): JointInputs {
  if (quantities.length < 2) {
    throw new InputError(
      `joint observations "${jointSource}": found ${quantities.length} quantity, expected two at least`,
    );
  }
  const inputs = quantities.map((quantity) => ({ ...fromRecords(quantity), jointSource }));
  const correlations = quantities.flatMap((first, i) =>
    quantities.slice(i + 1).map((second) => {
      requireSameLength(first.values, `"${first.name}"`, second.values, `"${second.name}"`);
      return { first: first.name, second: second.name, coefficient: correlation(first, second) };
    }),
  );
  return { inputs, correlations };
}

function correlation(first: JointObservations, second: JointObservations): number {
  const [x, y] = [deviations(first), deviations(second)];
  const sum = (a: readonly number[], b: readonly number[]): number =>
    a.reduce((total, value, k) => total + value * b[k]!, 0);
  return Math.max(-1, Math.min(1, sum(x, y) / Math.sqrt(sum(x, x) * sum(y, y))));
}

function deviations({ name, values }: JointObservations): number[] {
  const centre = mean(values);
  const result = values.map((value) => value - centre);
  if (result.every((value) => value === 0)) {
    throw new InputError(`observations of "${name}" are all ${centre}; expected a spread`);
  }
  return result;
}
