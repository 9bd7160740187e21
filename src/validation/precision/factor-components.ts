import { InputError } from '../../errors.js';
import { reml } from '../../statistics/analysis-of-variance/reml.js';
import type { RemlFit, VarianceComponent } from '../../statistics/analysis-of-variance/reml-fit.js';
import { limitsOfStandardDeviation } from '../confidence-limits.js';
import type { ConfidenceLimits } from '../finding.js';
import type { ResultRow } from '../result-row.js';

/** A factor that results may differ by. */
export type PrecisionFactor = 'day' | 'operator' | 'crucible' | 'place';

/** Components of variance by several factors that cross, in the squared unit of the results. */
export interface FactorComponents {
  /** In the order of the factors, the digestion last. */
  readonly components: readonly VarianceComponent[];
  /** Standard deviation of one digestion when all these factors change. */
  readonly total: number;
  readonly degreesOfFreedom: number;
  /** Satterthwaite's limits: approximate, shown beside the verdict and not decisive. */
  readonly limits: ConfidenceLimits;
  readonly fit: RemlFit;
  readonly notes: readonly string[];
}

/**
 * How much of the variation comes from days, operators, crucibles and places, in any crossed and unbalanced arrangement, by
 * restricted maximum likelihood. Two or three operators say little about operators in general: their component carries as many
 * degrees of freedom as that, so it is shown and not judged.
 *
 * @param factors at least one; each row must bear all of them
 * @throws InputError a row without one of the factors, factors that the arrangement does not tell apart
 * @see ISO 5725-3:2023 (intermediate measures of precision; no clause); Searle, Casella and McCulloch 1992, ch. 6
 */
export function factorComponents(
  rows: readonly ResultRow[],
  factors: readonly PrecisionFactor[],
): FactorComponents {
  const fit = reml(
    rows.map((row) => row.value),
    factors.map((name) => ({ name, levels: rows.map((row) => levelOf(row, name)) })),
  );
  const total = Math.sqrt(fit.totalVariance);
  const degreesOfFreedom = fit.totalDegreesOfFreedomExpected;
  const notes = factors.flatMap((name) => {
    const levels = new Set(rows.map((row) => levelOf(row, name))).size;
    return levels < 5 ? [`${levels} levels of ${name}: their variance is hardly known.`] : [];
  });
  return {
    components: fit.components,
    total,
    degreesOfFreedom,
    limits: limitsOfStandardDeviation(total, degreesOfFreedom),
    fit,
    notes: [...fit.notes, ...notes],
  };
}

function levelOf(row: ResultRow, name: PrecisionFactor): string {
  const level = row[name];
  if (level === undefined) throw new InputError(`${row.key}: found no ${name}, expected one in every row`);
  return level;
}
