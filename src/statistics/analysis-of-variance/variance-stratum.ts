import { InputError } from '../../errors.js';
import {
  type DoubleDouble,
  divide,
  narrow,
  subtract,
  wide,
  withoutNoise,
} from '../arithmetic/double-double.js';
import { fSurvival } from '../distributions/f.js';
import { ratioOfMeanSquares } from './one-way.js';

/** One line of an analysis of variance with its variance component. */
export interface VarianceStratum {
  readonly name: string;
  readonly degreesOfFreedom: number;
  readonly sumOfSquares: number;
  readonly meanSquare: number;
  /** Coefficients of the components in the expected mean square, in the order of the lines, residual last. */
  readonly expectedMeanSquare: readonly number[];
  /** Ratio to the mean square of the line `testedAgainst`; null for the last line. Exact test in balanced designs only. */
  readonly f: number | null;
  readonly testedAgainst: string | null;
  readonly pValue: number | null;
  /** Variance component, held at 0 where its estimate is negative. */
  readonly variance: number;
  readonly varianceUnconstrained: number;
  readonly atBoundary: boolean;
}

/** What a line of the table is made from. */
export interface StratumSums {
  readonly name: string;
  readonly sumOfSquares: DoubleDouble;
  readonly degreesOfFreedom: number;
  readonly expectedMeanSquare: readonly number[];
  /** Index of the line it is tested against. */
  readonly testedAgainst: number | null;
}

/**
 * Completes the lines of an analysis of variance: components solve MS = EMS from the last line upwards, each expected mean
 * square holding components of later lines only.
 *
 * @param scale sum of the squared values, to tell a sum of squares from rounding
 * @throws InputError a line without degrees of freedom
 */
export function completeStrata(
  sums: readonly StratumSums[],
  scale: number,
  notes: string[],
): VarianceStratum[] {
  const strata: VarianceStratum[] = [];
  for (let k = sums.length - 1; k >= 0; k--) {
    const { name, degreesOfFreedom, expectedMeanSquare, testedAgainst } = sums[k]!;
    const sumOfSquares = withoutNoise(sums[k]!.sumOfSquares, scale);
    if (degreesOfFreedom < 1) {
      throw new InputError(
        `${name}: found no degrees of freedom, expected more levels than in the line above`,
      );
    }
    const meanSquare = divide(sumOfSquares, wide(degreesOfFreedom));
    const later = strata.reduce(
      (total, stratum, j) => total + expectedMeanSquare[k + 1 + j]! * stratum.varianceUnconstrained,
      0,
    );
    const unconstrained = narrow(subtract(meanSquare, wide(later))) / expectedMeanSquare[k]!;
    if (unconstrained < 0) notes.push(`The component of ${name} came out below 0 and is held at 0.`);
    const against = testedAgainst === null ? null : strata[testedAgainst - k - 1]!;
    const f = against ? ratioOfMeanSquares(meanSquare, wide(against.meanSquare), notes) : null;
    strata.unshift({
      name,
      degreesOfFreedom,
      sumOfSquares: narrow(sumOfSquares),
      meanSquare: narrow(meanSquare),
      expectedMeanSquare,
      f,
      testedAgainst: against?.name ?? null,
      pValue: f === null ? null : fSurvival(f, degreesOfFreedom, against!.degreesOfFreedom),
      variance: Math.max(0, unconstrained),
      varianceUnconstrained: unconstrained,
      atBoundary: unconstrained <= 0,
    });
  }
  return strata;
}
