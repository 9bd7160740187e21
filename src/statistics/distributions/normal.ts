import { jStat } from 'jstat';
import { InputError, requireProbability } from '../../errors.js';

// Rational approximations of Cody 1969, Math. Comp. 23, 631, in the form for Φ(x): centre and middle.
const centreTop = [
  2.2352520354606837, 161.02823106855587, 1067.6894854603709, 18154.98125334356, 0.06568233791820745,
];
const centreBottom = [47.202581904688245, 976.0985517377767, 10260.932208618979, 45507.78933502673];
const middleTop = [
  0.39894151208813466, 8.883149794388377, 93.50665613217785, 597.2702763948002, 2494.5375852903726,
  6848.190450536283, 11602.65143764735, 9842.714838383978, 1.0765576773720192e-8,
];
const middleBottom = [
  22.266688044328117, 235.387901782625, 1519.3775994075547, 6485.558298266761, 18615.571640885097,
  34900.95272114598, 38912.00328609327, 19685.429676859992,
];
const centreEnd = 0.67448975;
const middleEnd = Math.sqrt(32);
const inverseRootTwoPi = 1 / Math.sqrt(2 * Math.PI);

/**
 * Density of the standard normal distribution.
 *
 * @param x any number, infinite ones included
 * @throws InputError x is not a number
 * @example
 * normalDensity(0) // => 0.39894228
 */
export function normalDensity(x: number): number {
  requireNumber(x);
  return Math.abs(x) > 40 ? 0 : inverseRootTwoPi * gaussian(x);
}

/**
 * Probability that a standard normal variable is at most x.
 *
 * @param x any number, infinite ones included
 * @returns probability, accurate relative to itself in both tails down to 1e-307
 * @throws InputError x is not a number
 * @see Cody 1969, Rational Chebyshev approximations for the error function, Math. Comp. 23, 631; NIST Digital Library of
 * Mathematical Functions 7.9.1 (beyond √32)
 * @example
 * normalCdf(-1.96) // => 0.024997895
 */
export function normalCdf(x: number): number {
  requireNumber(x);
  if (Math.abs(x) <= centreEnd) return 0.5 + centre(x);
  const tail = upperTail(Math.abs(x));
  return x < 0 ? tail : 1 - tail;
}

/**
 * Probability that a standard normal variable exceeds x.
 *
 * @param x any number, infinite ones included
 * @returns probability, accurate relative to itself in both tails down to 1e-307
 * @throws InputError x is not a number
 * @see Cody 1969, Math. Comp. 23, 631
 * @example
 * normalSurvival(5) // => 2.8665157e-7
 */
export function normalSurvival(x: number): number {
  return normalCdf(-x);
}

/**
 * Natural logarithm of the upper tail, for tails below the range of double precision.
 *
 * @throws InputError x is not a number
 * @example
 * normalLogSurvival(50) // => -1254.8314
 */
export function normalLogSurvival(x: number): number {
  requireNumber(x);
  if (x <= middleEnd) return Math.log(normalSurvival(x));
  return x === Number.POSITIVE_INFINITY ? -x : Math.log(tailRatio(x)) - (x * x) / 2;
}

/**
 * Value that a standard normal variable stays at or below with probability p.
 *
 * @param p between 0 and 1
 * @returns quantile; start by jstat, two steps of Halley's method on our own distribution function
 * @throws InputError p not between 0 and 1
 * @example
 * normalQuantile(0.975) // => 1.959964
 */
export function normalQuantile(p: number): number {
  requireProbability(p, 'probability');
  return p > 0.5 ? upperQuantile(1 - p) : -upperQuantile(p);
}

/**
 * Value that a standard normal variable exceeds with probability p: the quantile of 1 − p without forming 1 − p.
 *
 * @param p between 0 and 1
 * @throws InputError p not between 0 and 1
 * @example
 * normalUpperQuantile(1e-20) // => 9.2623401
 */
export function normalUpperQuantile(p: number): number {
  requireProbability(p, 'probability');
  return p > 0.5 ? -upperQuantile(1 - p) : upperQuantile(p);
}

/** p ≤ ½. */
function upperQuantile(p: number): number {
  if (p === 0.5) return 0;
  let x = -jStat.normal.inv(p, 0, 1);
  if (p > 0.25) {
    // centre(x) keeps the digits of ½ − p, which the tail would lose.
    for (let step = 0; step < 2; step++) x += (0.5 - p - centre(x)) / normalDensity(x);
    return x;
  }
  for (let step = 0; step < 3; step++) {
    const ratio = tailOverDensity(x);
    const newton = ratio * (Math.log(ratio * inverseRootTwoPi) - (x * x) / 2 - Math.log(p));
    x += newton / (1 + (newton * (1 / ratio - x)) / 2);
  }
  return x;
}

/** Φ(x) − ½ for |x| below the quartile and a little beyond. */
function centre(x: number): number {
  const square = x * x;
  let top = centreTop[4]! * square;
  let bottom = square;
  for (let i = 0; i < 3; i++) {
    top = (top + centreTop[i]!) * square;
    bottom = (bottom + centreBottom[i]!) * square;
  }
  return (x * (top + centreTop[3]!)) / (bottom + centreBottom[3]!);
}

function upperTail(x: number): number {
  return x > 39 ? 0 : gaussian(x) * (x <= middleEnd ? middleRatio(x) : tailRatio(x));
}

/** Upper tail divided by the density (Mills' ratio), x > 0. */
function tailOverDensity(x: number): number {
  if (x <= centreEnd) return (0.5 - centre(x)) / normalDensity(x);
  return (x <= middleEnd ? middleRatio(x) : tailRatio(x)) / inverseRootTwoPi;
}

function middleRatio(x: number): number {
  let top = middleTop[8]! * x;
  let bottom = x;
  for (let i = 0; i < 7; i++) {
    top = (top + middleTop[i]!) * x;
    bottom = (bottom + middleBottom[i]!) * x;
  }
  return (top + middleTop[7]!) / (bottom + middleBottom[7]!);
}

/** Laplace's continued fraction of Mills' ratio; 40 terms are more than enough beyond √32. */
function tailRatio(x: number): number {
  let denominator = x;
  for (let k = 40; k > 0; k--) denominator = x + k / denominator;
  return inverseRootTwoPi / denominator;
}

/** exp(−x²/2) with x² split so that its rounding does not reach the result. */
function gaussian(x: number): number {
  const cut = Math.trunc(x * 16) / 16;
  return Math.exp((-cut * cut) / 2) * Math.exp((-(x - cut) * (x + cut)) / 2);
}

function requireNumber(x: number): void {
  if (Number.isNaN(x)) throw new InputError('x: found NaN, expected a number');
}
