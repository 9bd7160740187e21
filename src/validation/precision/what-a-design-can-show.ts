import { InputError, requireInteger, requireNonNegative, requireProbability } from '../../errors.js';
import { chiSquaredQuantile } from '../../statistics/distributions/chi-squared.js';
import { randomStream } from '../../uncertainty/random-stream.js';

/** A design of days × digestions for intermediate precision. */
export interface PrecisionDesign {
  readonly days: number;
  readonly digestionsPerDay: number;
  /** σ²_day ÷ σ²_digestion that is expected. */
  readonly varianceRatio: number;
  readonly digestionsPerResult?: number;
  /** Power wanted for one criterion; 0.9 where not given. */
  readonly power?: number;
  readonly trials?: number;
  readonly seed: number;
}

/** What the design can show about s_I; all figures are relative to the true σ_I. */
export interface PrecisionDesignPower {
  /** Median of the upper one-sided 95 % limit. */
  readonly medianUpperLimit: number;
  /** Smallest criterion that is met with the wanted power. */
  readonly criterionForPower: number;
  /** How often a criterion set exactly at the truth is met; at most 0.05 if the limits hold. */
  readonly metAtTruth: number;
  readonly power: number;
  readonly trials: number;
}

/**
 * What days × digestions can show about intermediate precision, by simulation of the mean squares and their Graybill–Wang limit.
 *
 * @throws InputError fewer than 2 days or digestions a day, a negative ratio
 * @see Graybill and Wang 1980, J. Am. Stat. Assoc. 75, 869
 */
export function whatADesignCanShow(design: PrecisionDesign): PrecisionDesignPower {
  const { days, digestionsPerDay, varianceRatio, digestionsPerResult = 1, power = 0.9 } = design;
  const trials = design.trials ?? 20_000;
  requireInteger(days, 'days', 2);
  requireInteger(digestionsPerDay, 'digestions a day', 2);
  requireInteger(digestionsPerResult, 'digestions of a result', 1);
  requireInteger(trials, 'trials', 100);
  requireNonNegative(varianceRatio, 'ratio of variances');
  requireProbability(power, 'power');
  const stream = randomStream(design.seed, 'precision design', days, digestionsPerDay);
  const between = days - 1;
  const within = days * (digestionsPerDay - 1);
  const truth = Math.sqrt(varianceRatio + 1 / digestionsPerResult);
  const chiSquared = (nu: number) => {
    let sum = 0;
    for (let i = 0; i < nu; i++) sum += stream.normal() ** 2;
    return sum;
  };
  const limit = upperLimitOf(between, within, digestionsPerDay, digestionsPerResult);
  const ratios = Float64Array.from({ length: trials }, () => {
    const meanSquareBetween = ((digestionsPerDay * varianceRatio + 1) * chiSquared(between)) / between;
    const meanSquareWithin = chiSquared(within) / within;
    return limit(meanSquareBetween, meanSquareWithin) / truth;
  }).sort();
  return {
    medianUpperLimit: ratios[Math.floor(trials / 2)]!,
    criterionForPower: ratios[Math.min(trials - 1, Math.ceil(power * trials) - 1)]!,
    metAtTruth: ratios.filter((ratio) => ratio <= 1).length / trials,
    power,
    trials,
  };
}

/** Upper limit of s_I as a function of the mean squares; its quantiles are worked out once. */
function upperLimitOf(
  between: number,
  within: number,
  digestionsPerDay: number,
  digestionsPerResult: number,
): (meanSquareBetween: number, meanSquareWithin: number) => number {
  const second = 1 / digestionsPerResult - 1 / digestionsPerDay;
  if (second < 0) {
    throw new InputError(
      `digestions of a result: found ${digestionsPerResult}, expected at most ${digestionsPerDay} as in the design`,
    );
  }
  const h1 = between / chiSquaredQuantile(0.05, between) - 1;
  const h2 = within / chiSquaredQuantile(0.05, within) - 1;
  return (meanSquareBetween, meanSquareWithin) => {
    const a = meanSquareBetween / digestionsPerDay;
    const b = second * meanSquareWithin;
    const estimate = Math.max(a + b, meanSquareWithin / digestionsPerResult);
    return Math.sqrt(Math.max(estimate, a + b + Math.hypot(h1 * a, h2 * b)));
  };
}

/** What a number of blanks can show about their standard deviation, exact; relative to the true σ_b. */
export interface BlankDesignPower {
  /** Upper one-sided 95 % limit ÷ s_b. */
  readonly upperLimit: number;
  /** Smallest criterion, ÷ σ_b, that is met with the wanted power. */
  readonly criterionForPower: number;
}

/**
 * What n independent blanks can show about their standard deviation.
 *
 * @throws InputError fewer than 2 blanks, a power outside 0 to 1
 * @see ISO 2854:1976 (limits of a variance; clause not cited)
 * @example
 * whatBlanksCanShow(12).criterionForPower // => 1.943
 */
export function whatBlanksCanShow(blanks: number, power: number = 0.9): BlankDesignPower {
  requireInteger(blanks, 'blanks', 2);
  requireProbability(power, 'power');
  const nu = blanks - 1;
  const lowest = chiSquaredQuantile(0.05, nu);
  return {
    upperLimit: Math.sqrt(nu / lowest),
    criterionForPower: Math.sqrt(chiSquaredQuantile(power, nu) / lowest),
  };
}
