import { requireFinite } from '../../errors.js';
import { median } from '../descriptive/median.js';
import { logGamma } from '../distributions/stirling-error.js';

/** Outcome of the runs test. */
export interface RunsTest {
  /** Stretches of values on one side of the centre. */
  readonly runs: number;
  readonly above: number;
  readonly below: number;
  readonly expectedRuns: number;
  /** Longest stretch on one side. */
  readonly longest: number;
  /** Probability of so few runs or fewer (drift, slow waves). */
  readonly pFew: number;
  /** Probability of so many runs or more (alternation). */
  readonly pMany: number;
  /** Two-sided: twice the smaller of the two, at most 1. */
  readonly pValue: number;
  readonly method: string;
  readonly notes: readonly string[];
}

/**
 * Runs above and below a centre: does a sequence keep to one side longer than chance would have it?
 *
 * @param values n ≥ 2 finite values in order of time; those equal to the centre are passed over
 * @param centre the median of the values by default; the centre line of a chart
 * @returns number of runs with exact probabilities
 * @throws InputError fewer than two values, or one that is not finite
 * @see Wald and Wolfowitz 1940, Ann. Math. Statist. 11, 147; ISO 7870-2 (rules on runs, from memory)
 * @example
 * runsTest([1, 2, 3, 4, 5, 6, 7, 8]).pFew // => 0.028571429
 */
export function runsTest(values: ArrayLike<number>, centre: number = median(values)): RunsTest {
  requireFinite(values, 'values', 2);
  requireFinite([centre], 'centre');
  const sides = Array.from(values)
    .filter((x) => x !== centre)
    .map((x) => x > centre);
  const above = sides.filter(Boolean).length;
  const below = sides.length - above;
  const { runs, longest } = countRuns(sides);
  const dropped = values.length - sides.length;
  const notes = dropped > 0 ? [`${dropped} value(s) equal to the centre passed over`] : [];
  const base = { runs, above, below, longest, method: 'runs about a centre, exact', notes };
  if (above === 0 || below === 0) {
    notes.push('no value on one side of the centre: there is nothing to test');
    return { ...base, expectedRuns: runs, pFew: 1, pMany: 1, pValue: 1 };
  }
  let pFew = 0;
  let pMany = 0;
  for (let r = 2; r <= 2 * Math.min(above, below) + 1; r++) {
    const probability = runsProbability(r, above, below);
    if (r <= runs) pFew += probability;
    if (r >= runs) pMany += probability;
  }
  const pValue = Math.min(1, 2 * Math.min(pFew, pMany));
  return { ...base, expectedRuns: 1 + (2 * above * below) / (above + below), pFew, pMany, pValue };
}

function countRuns(sides: readonly boolean[]): { runs: number; longest: number } {
  let runs = 0;
  let longest = 0;
  let length = 0;
  sides.forEach((side, i) => {
    const starts = i === 0 || side !== sides[i - 1];
    length = starts ? 1 : length + 1;
    if (starts) runs++;
    longest = Math.max(longest, length);
  });
  return { runs, longest };
}

/** Probability of r runs of a values on one side and b on the other, all orders alike. */
function runsProbability(r: number, a: number, b: number): number {
  const half = Math.floor(r / 2);
  const all = logChoose(a + b, a);
  if (r % 2 === 0) return 2 * Math.exp(logChoose(a - 1, half - 1) + logChoose(b - 1, half - 1) - all);
  return (
    Math.exp(logChoose(a - 1, half) + logChoose(b - 1, half - 1) - all) +
    Math.exp(logChoose(a - 1, half - 1) + logChoose(b - 1, half) - all)
  );
}

function logChoose(n: number, k: number): number {
  if (k < 0 || k > n) return Number.NEGATIVE_INFINITY;
  return logGamma(n + 1) - logGamma(k + 1) - logGamma(n - k + 1);
}
