import { InputError, requireFinite, requireInteger, requireProbability } from '../../errors.js';
import { findRoot } from '../arithmetic/find-root.js';
import { gaussLegendre } from '../arithmetic/gauss-legendre.js';
import { remembered } from '../arithmetic/remembered.js';
import { normalCdf } from '../distributions/normal.js';
import { logGamma } from '../distributions/stirling-error.js';
import { allEqual, ascendingPositions, type OutlierTest, type Side } from './outlier-test.js';

/** Dixon's ratios: gap of the suspect over a range; the digits say how many values are passed over at either end. */
export type DixonRatio = 'r10' | 'r11' | 'r21' | 'r22';

/** [values skipped to the neighbour that the gap reaches, values left out at the far end]. */
const shape: Record<DixonRatio, readonly [number, number]> = {
  r10: [1, 0],
  r11: [1, 1],
  r21: [2, 1],
  r22: [2, 2],
};

/**
 * Dixon's test of an extreme value: its gap over a range.
 *
 * @param values n ≥ 3 finite values in one unit
 * @param side end under suspicion; 'both' takes the larger ratio and doubles the p value
 * @param alpha level of the test, between 0 and 1
 * @param ratio by default as Dixon recommends: r10 to 7 values, r11 to 10, r21 to 13, r22 beyond
 * @returns ratio, limit and p value by numerical integration of the exact distribution
 * @throws InputError too few values for the ratio, one that is not finite, or alpha not between 0 and 1
 * @see Dixon 1951, Ann. Math. Statist. 22, 68; Rorabacher 1991, Anal. Chem. 63, 139
 * @example
 * dixonTest([10.1, 10.2, 10.3, 10.2, 12.0]).statistic // => 0.89473684
 */
export function dixonTest(
  values: ArrayLike<number>,
  side: Side = 'both',
  alpha = 0.05,
  ratio: DixonRatio = recommendedRatio(values.length),
): OutlierTest {
  requireFinite(values, 'values', leastFor(ratio));
  const n = values.length;
  const sides = side === 'both' ? 2 : 1;
  const critical = dixonCritical(n, alpha / sides, ratio);
  const order = ascendingPositions(values);
  const base = {
    critical,
    alpha,
    n,
    method: `Dixon ${ratio}, ${side === 'both' ? 'two-sided' : `${side}est value`}`,
  };
  if (values[order[0]!] === values[order[n - 1]!]) {
    return { ...base, statistic: 0, pValue: 1, outlying: false, suspects: [], notes: [allEqual] };
  }
  const high = gapRatio(
    order.map((i) => values[i]!),
    ratio,
  );
  const low = gapRatio(
    [...order].reverse().map((i) => -values[i]!),
    ratio,
  );
  const atHigh = side === 'high' || (side === 'both' && high >= low);
  const statistic = atHigh ? high : low;
  const suspects = [order[atHigh ? n - 1 : 0]!];
  const pValue = Math.min(1, sides * dixonSurvival(statistic, n, ratio));
  return { ...base, statistic, pValue, outlying: statistic > critical, suspects, notes: [] };
}

/** The ratio Dixon recommends for n values. */
export function recommendedRatio(n: number): DixonRatio {
  if (n <= 7) return 'r10';
  if (n <= 10) return 'r11';
  return n <= 13 ? 'r21' : 'r22';
}

/**
 * Limit of a ratio at level alpha for one named end.
 *
 * @param n number of values
 * @param alpha level, between 0 and 1; halve it where either end may be tested
 * @throws InputError too few values for the ratio, or alpha not between 0 and 1
 * @example
 * dixonCritical(5, 0.025, 'r10') // => 0.710239
 */
export function dixonCritical(n: number, alpha: number, ratio: DixonRatio = recommendedRatio(n)): number {
  requireInteger(n, 'number of values', leastFor(ratio));
  requireProbability(alpha, 'alpha');
  return limit(n, alpha, ratio);
}

const limit = remembered((n: number, alpha: number, ratio: DixonRatio) =>
  findRoot((r) => dixonSurvival(r, n, ratio) - alpha, 0, 1, 1e-12),
);

/**
 * Probability that a ratio at one named end of n normal values exceeds r.
 *
 * With the reference value u and the extreme w = u + v held, the remaining values fall below u, between, or within the
 * gap; what is left is a double integral over u and v. In c = u + v/2 the product of the two densities is
 * exp(−c² − v²/4)/2π.
 *
 * @example
 * dixonSurvival(0.5, 3, 'r10') // => 0.5
 */
export function dixonSurvival(r: number, n: number, ratio: DixonRatio): number {
  const [above, below] = shape[ratio];
  if (r >= 1) return 0;
  if (r <= 0) return 1;
  const terms = Array.from({ length: above }, (_, inGap) => {
    const between = n - 2 - below - inGap;
    const factor = logGamma(n + 1) - logGamma(below + 1) - logGamma(between + 1) - logGamma(inGap + 1);
    return { factor: Math.exp(factor) / (2 * Math.PI), between, inGap };
  });
  const step = n > 30 ? 0.125 : 0.2;
  let sum = 0;
  for (const [low, high] of [
    [0, 2],
    [2, 5],
    [5, 9],
    [9, 15],
  ] as const) {
    const { points, weights } = gaussLegendre(20);
    for (let i = 0; i < 20; i++) {
      const v = low + ((high - low) / 2) * (1 + points[i]!);
      let inner = 0;
      for (let c = -7; c <= 7; c += step) {
        const u = c - v / 2;
        const atLow = normalCdf(u);
        const atGap = normalCdf(u + v * (1 - r));
        const gap = normalCdf(u + v) - atGap;
        let kept = 0;
        for (const term of terms) kept += term.factor * (atGap - atLow) ** term.between * gap ** term.inGap;
        inner += Math.exp(-c * c) * atLow ** below * kept;
      }
      sum += weights[i]! * ((high - low) / 2) * Math.exp((-v * v) / 4) * inner * step;
    }
  }
  return Math.min(1, sum);
}

/** (x_n − x_{n−j}) / (x_n − x_{1+k}) of ascending values. */
function gapRatio(ascending: readonly number[], ratio: DixonRatio): number {
  const [above, below] = shape[ratio];
  const n = ascending.length;
  const top = ascending[n - 1]!;
  const range = top / 2 - ascending[below]! / 2;
  return range === 0 ? 0 : (top / 2 - ascending[n - 1 - above]! / 2) / range;
}

function leastFor(ratio: DixonRatio): number {
  const [above, below] = shape[ratio] ?? [];
  if (above === undefined || below === undefined) {
    throw new InputError(`ratio: found ${ratio}, expected r10, r11, r21 or r22`);
  }
  return above + below + 2;
}
