import type { CountingRoute } from '../chain/counting-route.js';
import { conversionFactor } from '../quantities/unit.js';
import type { TrueMassFraction } from '../scenario/scenario-truth.js';
import type { ZirconPigmentStudy } from '../scenario/zircon-pigment-study.js';
import type { EvaluatedStudy } from '../studies/evaluate-study.js';
import { resultsOf } from '../studies/matrix/matrix-context.js';
import { type StudyCovariance, studyCovariance } from '../studies/result-covariance/study-covariance.js';
import {
  meanOfResults,
  ratioOfResults,
  sumOfResults,
} from '../uncertainty/correlated-results/combine-results.js';
import {
  type CorrelatedResult,
  effectiveDegreesOfFreedomOf,
  standardUncertaintyOf,
} from '../uncertainty/correlated-results/correlated-result.js';
import { coverageFactor } from '../uncertainty/coverage-factor.js';
import { believableCounts } from './error-rates/believable-counts.js';

/** How often the stated 95 % interval of one quantity holds the true value, over many invented studies. */
export interface IntervalCount {
  /** Analyte, total of oxides, or ratio. */
  readonly quantity: string;
  readonly route: CountingRoute;
  readonly covered: number;
  readonly of: number;
  /** Counts that are believed of 95 % at 99.9 %. */
  readonly believed: { readonly low: number; readonly high: number };
  /** Median half-width ÷ that of an oracle who knows the variance of the errors: 1.96 × their root mean square. */
  readonly widthAgainstOracle: number;
}

/** One interval of one seed. */
interface Interval {
  readonly error: number;
  readonly halfWidth: number;
}

/** Standard uncertainty of a sum as if nothing were shared. */
function apart(results: readonly CorrelatedResult[], coefficients: readonly number[]): number {
  return Math.hypot(...results.map((result, i) => standardUncertaintyOf(result) * coefficients[i]!));
}

const toGPer100G = (unit: string) => conversionFactor(unit, 'g/100 g');
const ratios = [
  ['Zr', 'Si'],
  ['Zr', 'Hf'],
] as const;

/**
 * Gathers intervals seed by seed: of each analyte, of the total of oxides, of the mean total of all levels of one day, and of ratios;
 * totals also without covariances, which shows what leaving them out does.
 */
export class IntervalCoverage {
  readonly #intervals = new Map<string, Interval[]>();

  /**
   * The result of the first day of one level, a different level from seed to seed.
   *
   * @param leftOut analytes with a bias that nobody corrected: it is in no interval
   */
  add({ truth }: ZirconPigmentStudy, study: EvaluatedStudy, leftOut: readonly string[]): void {
    const { levels, analytes } = study.index.records.plan;
    const { sample } = levels[truth.switches.seed % levels.length]!;
    const truths: Readonly<Record<string, TrueMassFraction>> = truth.massFractions[sample]!;
    const day = resultsOf(study, analytes[0]!.analyte, 'sample', sample)[0]!.day;
    for (const route of ['components', 'precision'] as const) {
      const covariance = studyCovariance(study, route);
      const means = analytes.map(({ analyte }) => {
        const own = resultsOf(study, analyte, 'sample', sample).filter((r) => r.day === day);
        return meanOfResults(
          analyte,
          own.map((r) => covariance.resultOf(r)),
        );
      });
      const put = (quantity: string, result: CorrelatedResult, trueValue: number, u?: number) =>
        this.#put(`${quantity}|${route}`, result, trueValue, u ?? standardUncertaintyOf(result));
      const scales = analytes.map(({ unit }) => toGPer100G(unit));
      means.forEach((mean) => {
        if (!leftOut.includes(mean.name)) put(mean.name, mean, truths[mean.name]!.reported);
      });
      const total = sumOfResults(
        'total of oxides',
        'g/100 g',
        means.map((result, i) => ({ result, coefficient: scales[i]! })),
      );
      const trueTotal = means.reduce((sum, m, i) => sum + truths[m.name]!.reported * scales[i]!, 0);
      put('total of oxides', total, trueTotal);
      put('total without covariances', total, trueTotal, apart(means, scales));
      this.#dayTotal(study, truth, covariance, day, put);
      for (const [top, below] of ratios) {
        const of = (name: string) => means.find((m) => m.name === name)!;
        const name = `${top} to ${below}`;
        const ratio = ratioOfResults(name, '1', of(top), of(below));
        put(name, ratio, truths[top]!.reported / truths[below]!.reported);
      }
    }
  }

  /** Total of oxides, mean of all levels of the day: what their results share does not average out. */
  #dayTotal(
    study: EvaluatedStudy,
    truth: ZirconPigmentStudy['truth'],
    covariance: StudyCovariance,
    day: string,
    put: (quantity: string, result: CorrelatedResult, trueValue: number, u?: number) => void,
  ): void {
    const { levels, analytes } = study.index.records.plan;
    const results: CorrelatedResult[] = [];
    const coefficients: number[] = [];
    let trueValue = 0;
    for (const { sample } of levels) {
      const truths: Readonly<Record<string, TrueMassFraction>> = truth.massFractions[sample]!;
      for (const { analyte, unit } of analytes) {
        const own = resultsOf(study, analyte, 'sample', sample).filter((r) => r.day === day);
        for (const r of own) {
          results.push(covariance.resultOf(r));
          coefficients.push(toGPer100G(unit) / own.length / levels.length);
        }
        trueValue += (truths[analyte]!.reported * toGPer100G(unit)) / levels.length;
      }
    }
    const terms = results.map((result, i) => ({ result, coefficient: coefficients[i]! }));
    const total = sumOfResults('mean total of the day', 'g/100 g', terms);
    put('mean total of the day', total, trueValue);
    put('the same without covariances', total, trueValue, apart(results, coefficients));
  }

  /** What was gathered, in the order in which it came. */
  counts(): IntervalCount[] {
    return [...this.#intervals].map(([key, intervals]) => {
      const [quantity, route] = key.split('|') as [string, CountingRoute];
      const n = intervals.length;
      const widths = intervals.map((i) => i.halfWidth).sort((a, b) => a - b);
      const rootMeanSquare = Math.sqrt(intervals.reduce((sum, i) => sum + i.error ** 2, 0) / n);
      return {
        quantity,
        route,
        covered: intervals.filter((i) => Math.abs(i.error) <= i.halfWidth).length,
        of: n,
        believed: believableCounts(0.95, n),
        widthAgainstOracle: widths[Math.floor((n - 1) / 2)]! / (1.959964 * rootMeanSquare),
      };
    });
  }

  /** Relative to the truth, so that levels can be pooled. */
  #put(key: string, result: CorrelatedResult, trueValue: number, standardUncertainty: number): void {
    const factor = coverageFactor(effectiveDegreesOfFreedomOf(result), 0.95);
    const interval = {
      error: result.estimate / trueValue - 1,
      halfWidth: (factor * standardUncertainty) / Math.abs(trueValue),
    };
    const known = this.#intervals.get(key);
    if (known === undefined) this.#intervals.set(key, [interval]);
    else known.push(interval);
  }
}
