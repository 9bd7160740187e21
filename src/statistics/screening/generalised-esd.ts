import { requireFinite, requireInteger } from '../../errors.js';
import { grubbsTest } from './grubbs.js';

/** One step of the procedure: the value farthest from the mean of those still there. */
export interface EsdStep {
  /** Position, from 0, in the data given. */
  readonly suspect: number;
  readonly statistic: number;
  readonly critical: number;
  /** Two-sided p value of Grubbs' test at this step. */
  readonly pValue: number;
}

/** Outcome of the generalised ESD procedure. */
export interface GeneralisedEsd {
  readonly steps: readonly EsdStep[];
  /** Positions, from 0, of the values declared outlying: all up to the last step beyond its limit. */
  readonly outliers: readonly number[];
  readonly alpha: number;
  readonly n: number;
  readonly method: string;
  readonly notes: readonly string[];
}

/**
 * Generalised extreme studentised deviate procedure: several outliers that may mask each other.
 *
 * @param values n ≥ 3 finite values in one unit
 * @param most largest number of outliers looked for, from 1 to n − 2
 * @param alpha level of the whole procedure, between 0 and 1
 * @throws InputError fewer than three values, one that is not finite, or a parameter outside its range
 * @see Rosner 1983, Technometrics 25, 165; NIST/SEMATECH e-Handbook 1.3.5.17.3
 * @example
 * generalisedEsd([10.1, 10.2, 10.3, 10.2, 12.0, 10.0, 10.15, 12.1], 2).outliers // => [7,4]
 */
export function generalisedEsd(values: ArrayLike<number>, most: number, alpha = 0.05): GeneralisedEsd {
  requireFinite(values, 'values', 3);
  requireInteger(most, 'number of outliers looked for', 1, values.length - 2);
  const positions = Array.from(values, (_, i) => i);
  const steps: EsdStep[] = [];
  const notes: string[] = [];
  let declared = 0;
  for (let i = 0; i < most; i++) {
    const test = grubbsTest(
      positions.map((p) => values[p]!),
      'both',
      alpha,
    );
    const place = test.suspects[0];
    if (place === undefined) {
      notes.push(`stopped after ${i} step(s): the values that are left are equal`);
      break;
    }
    const { statistic, critical, pValue } = test;
    steps.push({ suspect: positions[place]!, statistic, critical, pValue });
    if (test.outlying) declared = steps.length;
    positions.splice(place, 1);
  }
  return {
    steps,
    outliers: steps.slice(0, declared).map((step) => step.suspect),
    alpha,
    n: values.length,
    method: `generalised ESD, up to ${most} outlier(s)`,
    notes,
  };
}
