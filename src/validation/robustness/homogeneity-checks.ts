import { requireNonNegative, requirePositive } from '../../errors.js';
import type { OneWayAnalysis } from '../../statistics/analysis-of-variance/one-way.js';
import { chiSquaredUpperQuantile } from '../../statistics/distributions/chi-squared.js';
import { fUpperQuantile } from '../../statistics/distributions/f.js';

/** What two guides say of the same units; shown beside the verdict, which rests on the limits of the component. */
export interface HomogeneityChecks {
  /** 5 % limit for the standard deviation between units if the true one equals the allowed one. */
  readonly criticalValue: number;
  readonly factorOfAllowed: number;
  readonly factorOfRepeatability: number;
  /** The standard deviation between units does not exceed the limit: no evidence of heterogeneity, which is not proof of none. */
  readonly passes: boolean;
  /** F of units against portions, and its p value. */
  readonly f: number;
  readonly pValue: number;
}

/**
 * Test of the standard deviation between units against an allowed one: √(F₁·σ²_allowed + F₂·s_w²), where F₁ = χ²₀.₉₅(g − 1)/(g − 1)
 * and F₂ = (F₀.₉₅(g − 1, g(m − 1)) − 1)/m for g units of m portions.
 *
 * It passes unless heterogeneity is proved: few units and poor repeatability pass it easily. The verdict therefore asks for more.
 *
 * @param allowed allowed standard deviation between units, in the unit of the results
 * @throws InputError an allowed standard deviation below 0, no repeated unit
 * @see ISO 13528:2022, Annex B (clause from memory); ISO 33405:2024 (F test; no clause)
 */
export function homogeneityChecks(
  analysis: Pick<
    OneWayAnalysis,
    | 'degreesOfFreedomBetween'
    | 'degreesOfFreedomWithin'
    | 'effectiveGroupSize'
    | 'meanSquareWithin'
    | 'betweenVariance'
    | 'f'
    | 'pValue'
  >,
  allowed: number,
): HomogeneityChecks {
  requireNonNegative(allowed, 'allowed standard deviation between units');
  const { degreesOfFreedomBetween: between, degreesOfFreedomWithin: within } = analysis;
  requirePositive(within, 'degrees of freedom within units');
  const factorOfAllowed = chiSquaredUpperQuantile(0.05, between) / between;
  const factorOfRepeatability = (fUpperQuantile(0.05, between, within) - 1) / analysis.effectiveGroupSize;
  const criticalValue = Math.sqrt(
    factorOfAllowed * allowed ** 2 + factorOfRepeatability * analysis.meanSquareWithin,
  );
  return {
    criticalValue,
    factorOfAllowed,
    factorOfRepeatability,
    passes: Math.sqrt(analysis.betweenVariance) <= criticalValue,
    f: analysis.f,
    pValue: analysis.pValue,
  };
}
