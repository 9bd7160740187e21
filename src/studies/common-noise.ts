import type { MeasuredSolution } from './measured-solutions.js';

/** Noise that readings of all lines taken together share: that of the internal standard's own signal, relative to any ratio. */
export interface CommonNoise {
  /** Standard deviation of one reading. */
  readonly relative: number;
  readonly degreesOfFreedom: number;
}

/**
 * Noise common to the ratios of lines that were read together, from how they deviate alike: the products of the deviations of two
 * lines, each pair weighted by what their own noise lets it tell. Flicker that analyte and internal standard share is in no ratio.
 *
 * @param measured readings with an internal standard; those at one place of a run were taken together
 * @param deviationOf standard deviation of one reading's ratio, by which the lines are weighted
 * @returns null where lines deviate no more alike than by chance, or no two were read together twice
 * @see JCGM 100:2008, 5.2.3 and F.1.2 (covariance by a shared quantity); weighting by the inverse variance of a product: from the
 *   moments of the normal distribution
 */
export function commonNoise(
  measured: readonly MeasuredSolution[],
  deviationOf: (solution: MeasuredSolution) => number,
): CommonNoise | null {
  const places = new Map<string, MeasuredSolution[]>();
  for (const m of measured) {
    if (m.internalStandard === null || m.ratios.length < 2) continue;
    const key = `${m.run}|${m.position}`;
    const place = places.get(key);
    if (place === undefined) places.set(key, [m]);
    else place.push(m);
  }
  const sums = { products: 0, weights: 0, signal: 0, degreesOfFreedom: 0 };
  for (const place of places.values()) addPlace(sums, place, deviationOf);
  if (!(sums.products > 0)) return null;
  const variance = sums.products / sums.weights;
  // Of each degree of freedom the share that the common part has in what the lines together tell of it.
  const told = (variance * sums.signal) / sums.degreesOfFreedom;
  const share = told / (1 + told);
  return {
    relative: Math.sqrt(variance),
    degreesOfFreedom: Math.max(1, sums.degreesOfFreedom * share * share),
  };
}

interface Sums {
  /** Weighted products of the deviations of two different lines, and what they are for a common variance of 1. */
  products: number;
  weights: number;
  /** Information on the common part, over degrees of freedom. */
  signal: number;
  degreesOfFreedom: number;
}

function addPlace(
  sums: Sums,
  place: readonly MeasuredSolution[],
  deviationOf: (solution: MeasuredSolution) => number,
): void {
  // Readings that were left out of one line cannot be told from those of another: the lines read most often are alike.
  const repeats = Math.max(...place.map((m) => m.ratios.length));
  const lines = place.filter((m) => m.ratios.length === repeats).map((m) => ({ m, s: deviationOf(m) }));
  const read = lines.filter(({ s }) => s > 0);
  if (read.length < 2) return;
  let [information, squares] = [0, 0];
  for (const { m, s } of read) {
    const own = (m.meanRatio / s) ** 2;
    information += own;
    squares += own * own;
  }
  const pairs = information ** 2 - squares;
  if (!(pairs > 0)) return;
  for (let k = 0; k < repeats; k++) {
    let [sum, sumOfSquares] = [0, 0];
    for (const { m, s } of read) {
      const term = (m.meanRatio * (m.ratios[k]! - m.meanRatio)) / (s * s);
      sum += term;
      sumOfSquares += term * term;
    }
    sums.products += sum * sum - sumOfSquares;
  }
  sums.weights += (repeats - 1) * pairs;
  sums.signal += (repeats - 1) * Math.sqrt(pairs);
  sums.degreesOfFreedom += repeats - 1;
}
