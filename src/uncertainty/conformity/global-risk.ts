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
  // All in standard deviations of the process: at the property itself a far mean would cost the digits of a small uncertainty.
  const inSpread = (value: number): number => (value - mean) / spread;
  const [lowest, highest] = [inSpread(acceptance.lower ?? -Infinity), inSpread(acceptance.upper ?? Infinity)];
  const u = standardUncertainty / spread;
  const accept = (z: number): number => {
    const [below, above] = [(lowest - z) / u, (highest - z) / u];
    return below > 0 ? normalSurvival(below) - normalSurvival(above) : normalCdf(above) - normalCdf(below);
  };
  const steps = [...stepsAbout(lowest, u), ...stepsAbout(highest, u)].sort((a, b) => a - b);
  const over = (from: number, to: number, g: (z: number) => number): number =>
    integrateBetween((z) => g(z) * normalDensity(z), inSpread(from), inSpread(to), steps);
  return {
    conforming: normalCdf(inSpread(high)) - normalCdf(inSpread(low)),
    consumer: over(-Infinity, low, accept) + over(high, Infinity, accept),
    producer: over(low, high, (z) => 1 - accept(z)),
  };
}

/** Half steps of the uncertainty about an acceptance limit: within 12 of them acceptance turns from surely to never. */
function stepsAbout(limit: number, u: number): number[] {
  if (!Number.isFinite(limit)) return [];
  return Array.from({ length: 49 }, (_, i) => limit + (i / 2 - 12) * u);
}

/** Integral in pieces between the steps, however much narrower than a panel they are. */
function integrateBetween(
  g: (z: number) => number,
  from: number,
  to: number,
  steps: readonly number[],
): number {
  const edges = [from, ...steps.filter((step) => step > from && step < to), to];
  return edges.slice(1).reduce((sum, edge, i) => sum + integrate(g, edges[i]!, edge), 0);
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
