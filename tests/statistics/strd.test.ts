import { describe, expect, it } from 'vitest';
import { oneWayAnalysis } from '../../src/statistics/analysis-of-variance/one-way.js';
import { fitLine } from '../../src/statistics/regression/line.js';
import { fitLinearModel, type LinearModelFit } from '../../src/statistics/regression/linear-model.js';
import { fitPolynomial } from '../../src/statistics/regression/polynomial.js';
import { exactLeastSquares } from '../support/exact-least-squares.js';
import { exactOneWay } from '../support/exact-one-way.js';
import { Rational } from '../support/rational.js';
import {
  anovaSets,
  certifiedValues,
  linearSets,
  type ReferenceDataset,
  readStrd,
  strdGroups,
} from '../support/strd.js';

// NIST Statistical Reference Datasets, public domain, certified values read in the data files.

function digits(actual: number, certified: number): number {
  if (actual === certified) return Number.POSITIVE_INFINITY;
  return -Math.log10(Math.abs(actual - certified) / Math.abs(certified));
}

/** Every certified value to the digits that binary64 data allow, at least 13 where that is more. */
function expectCertified(set: ReferenceDataset, computed: Record<string, number>, scale: number): void {
  const certified = certifiedValues(set);
  expect(Object.keys(computed).sort()).toEqual(Object.keys(certified).sort());
  for (const [name, value] of Object.entries(certified)) {
    const allowed = set.digitsOfBinary64Data[name]!;
    const actual = computed[name]!;
    const where = `${set.name} ${name}: ${actual} against ${value}`;
    if (value === 0) expect(Math.abs(actual), where).toBeLessThanOrEqual(1e-9 * scale);
    else if (value === Number.POSITIVE_INFINITY) expect(actual, where).toBeGreaterThanOrEqual(1e18);
    else {
      // The table gives the allowed digits to one decimal.
      const needed = typeof allowed === 'number' ? Math.min(13, allowed - 0.05) : 13;
      expect(digits(actual, value), where).toBeGreaterThanOrEqual(needed);
    }
  }
}

function oneWayValues(groups: readonly number[][]): Record<string, number> {
  const found = oneWayAnalysis(groups);
  return {
    'between.df': found.degreesOfFreedomBetween,
    'between.ss': found.sumOfSquaresBetween,
    'between.ms': found.meanSquareBetween,
    'between.F': found.f,
    'within.df': found.degreesOfFreedomWithin,
    'within.ss': found.sumOfSquaresWithin,
    'within.ms': found.meanSquareWithin,
    r2: found.rSquared,
    residual_sd: Math.sqrt(found.withinVariance),
  };
}

function linearValues(fit: LinearModelFit): Record<string, number> {
  const found: Record<string, number> = {
    'regression.df': fit.regressionDegreesOfFreedom,
    'regression.ss': fit.regressionSumOfSquares,
    'regression.ms': fit.regressionMeanSquare,
    'regression.F': fit.f,
    'residual.df': fit.degreesOfFreedom,
    'residual.ss': fit.residualSumOfSquares,
    'residual.ms': fit.residualMeanSquare,
    r2: fit.rSquared,
    residual_sd: fit.residualStandardDeviation,
  };
  fit.coefficients.forEach((coefficient, i) => {
    const name = `B${fit.hasIntercept ? i : i + 1}`;
    found[name] = coefficient;
    found[`sd(${name})`] = fit.standardErrors[i]!;
  });
  return found;
}

function linearFit(set: ReferenceDataset): LinearModelFit {
  const { x, y } = set.data!;
  if (set.name === 'Longley') return fitLinearModel(Object.values(x as Record<string, number[]>), y!);
  return fitPolynomial(x as number[], y!, set.model.degree!, {
    throughOrigin: set.model.intercept === false,
  });
}

function exactDesign(set: ReferenceDataset): (number | Rational)[][] {
  const x = set.data!.x!;
  const ones = set.data!.y!.map(() => 1);
  if (set.name === 'Longley') return [ones, ...Object.values(x as Record<string, number[]>)];
  const powers = Array.from({ length: set.model.degree! }, (_, k) =>
    (x as number[]).map((value) => {
      let power = Rational.from(value);
      for (let i = 0; i < k; i++) power = power.times(Rational.from(value));
      return power;
    }),
  );
  return set.model.intercept === false ? powers : [ones, ...powers];
}

describe('NIST reference datasets', () => {
  it.each(anovaSets)('%s: the table of the one-way analysis has the certified digits', (name) => {
    const set = readStrd(name);
    expectCertified(set, oneWayValues(strdGroups(set)), 1);
  });

  it.each(anovaSets)('%s: the one-way analysis agrees with exact arithmetic on the binary64 data', (name) => {
    const groups = strdGroups(readStrd(name));
    const exact = exactOneWay(groups);
    const found = oneWayAnalysis(groups);
    expect(found.sumOfSquaresBetween).toAgreeWithin(exact.between, 4e-16);
    expect(found.sumOfSquaresWithin).toAgreeWithin(exact.within, 4e-16);
    expect(found.meanSquareBetween).toAgreeWithin(exact.meanSquareBetween, 4e-16);
    expect(found.meanSquareWithin).toAgreeWithin(exact.meanSquareWithin, 4e-16);
    expect(found.f).toAgreeWithin(exact.f, 4e-16);
    expect(found.rSquared).toAgreeWithin(exact.rSquared, 4e-16);
    expect(Math.sqrt(found.withinVariance)).toAgreeWithin(exact.residualStandardDeviation, 4e-16);
  });

  it.each(linearSets)('%s: the fit has the certified digits', (name) => {
    const set = readStrd(name);
    expectCertified(set, linearValues(linearFit(set)), Math.max(...set.data!.y!.map(Math.abs)));
  });

  it.each(linearSets)('%s: the fit agrees with exact arithmetic on the binary64 data', (name) => {
    const set = readStrd(name);
    const exact = exactLeastSquares(exactDesign(set), set.data!.y!);
    const found = linearFit(set);
    exact.coefficients.forEach((coefficient, i) => {
      expect(found.coefficients[i]).toAgreeWithin(coefficient, 4e-16);
    });
    // A perfect fit leaves 0 exactly; then rounding at the 32nd digit of the response is all there is.
    const scale = Math.max(...set.data!.y!.map(Math.abs));
    if (exact.residualMeanSquare === 0) {
      expect(found.residualStandardDeviation).toBeLessThanOrEqual(scale * 1e-25);
      return;
    }
    exact.standardErrors.forEach((error, i) => {
      expect(found.standardErrors[i]).toAgreeWithin(error, 4e-16);
    });
    expect(found.residualSumOfSquares).toAgreeWithin(exact.residualSumOfSquares, 4e-16);
    expect(found.regressionSumOfSquares).toAgreeWithin(exact.regressionSumOfSquares, 4e-16);
    expect(found.f).toAgreeWithin(exact.f, 4e-16);
    expect(found.rSquared).toAgreeWithin(exact.rSquared, 4e-16);
    expect(found.residualStandardDeviation).toAgreeWithin(exact.residualStandardDeviation, 4e-16);
  });

  it('gives Norris by the straight-line routine as well', () => {
    const set = readStrd('norris');
    const certified = certifiedValues(set);
    const fit = fitLine(set.data!.x as number[], set.data!.y!);
    expect(fit.intercept).toHaveCorrectDigits(certified.B0!, 13);
    expect(fit.slope).toHaveCorrectDigits(certified.B1!, 13);
    expect(Math.sqrt(fit.varianceIntercept)).toHaveCorrectDigits(certified['sd(B0)']!, 13);
    expect(Math.sqrt(fit.varianceSlope)).toHaveCorrectDigits(certified['sd(B1)']!, 13);
    expect(fit.residualStandardDeviation).toHaveCorrectDigits(certified.residual_sd!, 13);
    expect(fit.rSquared).toHaveCorrectDigits(certified.r2!, 13);
  });
});
