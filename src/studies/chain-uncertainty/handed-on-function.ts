import type { CountingRoute } from '../../chain/counting-route.js';
import { coverageFactor } from '../../uncertainty/coverage-factor.js';
import { uncertaintyFunction } from '../../uncertainty/uncertainty-at-level.js';
import type { LevelBudget } from '../matrix/budget-study.js';

/** Standard uncertainty of one analyte as a function of its mass fraction, u(w) = √(s₀² + (s₁·w)²), for routine results. */
export interface HandedOnFunction {
  readonly analyte: string;
  readonly unit: string;
  readonly route: CountingRoute;
  /** s₀, in the unit of the result. */
  readonly constantPart: number;
  /** s₁, relative (a fraction). */
  readonly proportionalPart: number;
  /** Smallest effective degrees of freedom of the levels, and the factor for 95 % coverage that they ask for. */
  readonly degreesOfFreedom: number;
  readonly coverageFactor: number;
  readonly points: readonly HandedOnPoint[];
  /** What the budgets do not hold, such as a bias that was found: not for routine results until it is settled. */
  readonly outsideBudget: string | null;
  readonly notes: readonly string[];
}

/** One level behind the function. */
export interface HandedOnPoint {
  readonly level: string;
  readonly massFraction: number;
  readonly standardUncertainty: number;
  /** u found over u of the function. */
  readonly ratio: number;
}

/** The function of each analyte; in its place the reason where levels are too few. */
export type HandedOn =
  | HandedOnFunction
  | { readonly analyte: string; readonly unit: string; readonly missing: string };

/**
 * Uncertainty as a function of the mass fraction for one analyte, from its decisive budgets.
 *
 * @param budgets of one analyte, one a level, at least one
 * @see QUAM:2012, Appendix E.5
 */
export function handedOnFunction(budgets: readonly LevelBudget[], route: CountingRoute): HandedOn {
  const { analyte, unit, outsideBudget } = budgets[0]!;
  const contents = budgets.map(({ decisive }) => Math.abs(decisive.estimate));
  const found = budgets.map(({ decisive }) => decisive.standardUncertainty);
  if (new Set(contents).size < 2) {
    return {
      analyte,
      unit,
      missing: `found ${budgets.length} level of ${analyte}, expected two different ones`,
    };
  }
  const { constantPart, proportionalPart, ratios, notes } = uncertaintyFunction(contents, found);
  const degreesOfFreedom = Math.min(...budgets.map(({ decisive }) => decisive.effectiveDegreesOfFreedom));
  return {
    analyte,
    unit,
    route,
    constantPart,
    proportionalPart,
    degreesOfFreedom,
    coverageFactor: coverageFactor(degreesOfFreedom, 0.95),
    points: budgets.map(({ level }, i) => ({
      level,
      massFraction: contents[i]!,
      standardUncertainty: found[i]!,
      ratio: ratios[i]!,
    })),
    outsideBudget,
    notes: [...notes, ...narrowNotes(contents)],
  };
}

/** Levels closer than this factor do not tell the constant part from the proportional one. */
const narrow = 2;

function narrowNotes(contents: readonly number[]): string[] {
  const ratio = Math.max(...contents) / Math.min(...contents);
  if (ratio >= narrow) return [];
  return [
    `the levels span less than a factor of ${narrow}: they do not tell the constant from the proportional part, and outside them u is not known`,
  ];
}
