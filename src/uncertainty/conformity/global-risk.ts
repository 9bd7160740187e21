import { requireFinite, requirePositive } from '../../errors.js';
import { normalCdf, normalDensity, normalSurvival } from '../../statistics/distributions/normal.js';
import { requireLimits, type ToleranceLimits } from './tolerance-limits.js';

/** A normal process: the property over the items it makes. */
export interface NormalProcess {
  readonly mean: number;
  readonly standardDeviation: number;
}

/** Risks of a production process judged by measurement. */
export interface GlobalRisk {
  /** Probability that an item conforms. */
  readonly conforming: number;
  /** Global consumer's risk: an item does not conform and is accepted. */
  readonly consumer: number;
  /** Global producer's risk: an item conforms and is rejected. */
  readonly producer: number;
}

/**
 * Global risks for a normal process judged by a normal measurement.
 *
 * @param standardUncertainty of one measurement
 * @param tolerance limits for the property
 * @param acceptance limits for the measured value
 * @throws InputError limits that are none, a spread not above 0
 * @see JCGM 106:2012, 9.5
 * @example
 * const limits = { lower: 1499.8, upper: 1500.2 };
 * globalRisk({ mean: 1500, standardDeviation: 0.12 }, 0.04, limits, limits).conforming // => 0.904419295
 */
export function globalRisk(
  process: NormalProcess,
  standardUncertainty: number,
  tolerance: ToleranceLimits,
  acceptance: ToleranceLimits,
): GlobalRisk {
  requireFinite([process.mean], 'mean of the process');
  requirePositive(process.standardDeviation, 'standard deviation of the process');
  requirePositive(standardUncertainty, 'standard uncertainty');
  requireLimits(tolerance);
  requireLimits(acceptance);
  const { mean, standardDeviation: spread } = process;
  const [low, high] = [tolerance.lower ?? -Infinity, tolerance.upper ?? Infinity];
  const accept = (property: number): number => {
    const below = ((acceptance.lower ?? -Infinity) - property) / standardUncertainty;
    const above = ((acceptance.upper ?? Infinity) - property) / standardUncertainty;
    return below > 0 ? normalSurvival(below) - normalSurvival(above) : normalCdf(above) - normalCdf(below);
  };
  const over = (from: number, to: number, g: (property: number) => number): number =>
    integrate((z) => g(mean + spread * z) * normalDensity(z), (from - mean) / spread, (to - mean) / spread);
  return {
    conforming: normalCdf((high - mean) / spread) - normalCdf((low - mean) / spread),
    consumer: over(-Infinity, low, accept) + over(high, Infinity, accept),
    producer: over(low, high, (property) => 1 - accept(property)),
  };
}

/** Nodes and weights of the five-point Gauss–Legendre rule on [-1, 1], from its middle outwards. */
const inner = Math.sqrt(5 - 2 * Math.sqrt(10 / 7)) / 3;
const outer = Math.sqrt(5 + 2 * Math.sqrt(10 / 7)) / 3;
const nodes: readonly (readonly [number, number])[] = [
  [0, 128 / 225],
  [inner, (322 + 13 * Math.sqrt(70)) / 900],
  [-inner, (322 + 13 * Math.sqrt(70)) / 900],
  [outer, (322 - 13 * Math.sqrt(70)) / 900],
  [-outer, (322 - 13 * Math.sqrt(70)) / 900],
];

/** Integral over standard deviations; beyond 12 of them nothing is left in double precision. */
function integrate(g: (z: number) => number, from: number, to: number): number {
  const [low, high] = [Math.max(from, -12), Math.min(to, 12)];
  if (!(low < high)) return 0;
  const panels = Math.ceil((high - low) * 200);
  const half = (high - low) / panels / 2;
  let sum = 0;
  for (let panel = 0; panel < panels; panel++) {
    const middle = low + (2 * panel + 1) * half;
    for (const [node, weight] of nodes) sum += weight * half * g(middle + half * node);
  }
  return sum;
}
