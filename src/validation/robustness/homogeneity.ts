import { requirePositive } from '../../errors.js';
import { modifiedLargeSampleInterval } from '../../statistics/analysis-of-variance/modified-large-sample.js';
import { type OneWayAnalysis, oneWayAnalysis } from '../../statistics/analysis-of-variance/one-way.js';
import { limitsFrom, scaleLimits } from '../confidence-limits.js';
import type { ConfidenceLimits, Finding } from '../finding.js';
import { type FindingOptions, makeFinding } from '../make-finding.js';
import { noScatter } from '../no-scatter.js';
import { rowsOf, valuesBy } from '../result-row.js';
import { scaleOf } from '../scale.js';

/** One result of one unit (bottle, bag, increment) of a material. */
export interface HomogeneityRow {
  readonly key: string;
  readonly unit: string;
  readonly value: number;
}

/** Heterogeneity between units, in the unit of the results. */
export interface Homogeneity {
  readonly finding: Finding;
  readonly analysis: OneWayAnalysis;
  readonly betweenUnits: number;
  readonly limits: ConfidenceLimits;
  /** What heterogeneity the repeatability could hide: √(MS_w/n)·(2/ν_w)^¼. */
  readonly hiddenByRepeatability: number;
}

/**
 * Standard deviation between units of a material, from repeated results of each unit measured in random order under
 * repeatability; limits of the component by the modified-large-sample method.
 *
 * @throws InputError fewer than 2 units, no unit measured twice, a mean not above 0 under a relative criterion
 * @see ISO 33405:2024 (homogeneity; no clause); Ting and others 1990, J. Stat. Comput. Simul. 35, 135
 */
export function homogeneity(rows: readonly HomogeneityRow[], options: FindingOptions): Homogeneity {
  const analysis = oneWayAnalysis([...valuesBy(rows, (row) => row.unit).values()]);
  const n = analysis.effectiveGroupSize;
  requirePositive(n, 'results of a unit');
  const term = (meanSquare: number, degreesOfFreedom: number) => ({
    coefficient: 1 / n,
    meanSquare,
    degreesOfFreedom,
  });
  const component = (probability: number) =>
    modifiedLargeSampleInterval(
      term(analysis.meanSquareBetween, analysis.degreesOfFreedomBetween),
      term(analysis.meanSquareWithin, analysis.degreesOfFreedomWithin),
      1 - 2 * probability,
    ).interval;
  const limits = limitsFrom(
    (p) => Math.sqrt(component(p).low),
    (p) => Math.sqrt(component(p).high),
  );
  const betweenUnits = Math.sqrt(analysis.betweenVariance);
  const hidden = Math.sqrt(analysis.meanSquareWithin / n) * (2 / analysis.degreesOfFreedomWithin) ** 0.25;
  const scale = scaleOf(options.criterion, options.unit, analysis.grandMean);
  const finding = makeFinding('homogeneity', options, {
    quantity: `${scale.relative ? 'relative ' : ''}standard deviation between units`,
    unit: scale.unit,
    estimate: betweenUnits * scale.factor,
    limits: scaleLimits(limits, scale.factor),
    degreesOfFreedom: analysis.degreesOfFreedomBetween,
    n: analysis.groups,
    clause: 'ISO 33405:2024 (no clause)',
    method: 'one-way analysis of variance; limits of the component by the modified-large-sample method',
    rows: [rowsOf('homogeneity', rows)],
    notes: analysis.betweenAtBoundary
      ? ['The variance between units came out at or below 0 and is held at 0; the upper limit counts.']
      : [],
    heldAtZero: analysis.betweenAtBoundary,
    notShownBecause:
      betweenUnits === 0 && analysis.meanSquareWithin === 0
        ? noScatter('The results', 'they show no homogeneity')
        : null,
    remedy: 'More units, each measured in duplicate, narrow the limits.',
  });
  return { finding, analysis, betweenUnits, limits, hiddenByRepeatability: hidden };
}
