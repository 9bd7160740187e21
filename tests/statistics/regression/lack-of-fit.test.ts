import { describe, expect, it } from 'vitest';
import { lackOfFit } from '../../../src/statistics/regression/lack-of-fit.js';
import { fitLine } from '../../../src/statistics/regression/line.js';
import { fitPolynomial } from '../../../src/statistics/regression/polynomial.js';

describe('lack of fit', () => {
  const x = [0, 0, 1, 1, 2, 2, 3, 3];
  const y = [0.1, -0.1, 1.2, 1.0, 3.9, 4.1, 9.2, 8.8];

  it('splits the residual sum of squares into pure error and lack of fit', () => {
    const line = fitLine(x, y);
    const found = lackOfFit(line);
    expect(found.sumOfSquaresLackOfFit + found.sumOfSquaresPureError).toAgreeWithin(
      line.residualSumOfSquares,
      1e-14,
    );
    // Pure error by hand: (0.2² + 0.2² + 0.2² + 0.4²)/2.
    expect(found.sumOfSquaresPureError).toAgreeWithin(0.14, 1e-14);
    expect([found.degreesOfFreedomLackOfFit, found.degreesOfFreedomPureError]).toEqual([2, 4]);
    expect(found.pValue).toBeLessThan(0.001);
  });

  it('clears the curve that holds', () => {
    expect(lackOfFit(fitPolynomial(x, y, 2)).pValue).toBeGreaterThan(0.3);
  });

  it('weights levels as the fit does', () => {
    const weights = x.map((v) => 1 / (1 + v) ** 2);
    const line = fitLine(x, y, weights);
    const found = lackOfFit(line);
    expect(found.sumOfSquaresLackOfFit + found.sumOfSquaresPureError).toAgreeWithin(
      line.residualSumOfSquares,
      1e-14,
    );
    expect(found.sumOfSquaresPureError).toAgreeWithin(0.02 + 0.02 / 4 + 0.02 / 9 + 0.08 / 16, 1e-13);
  });

  it('answers for replicates without spread', () => {
    const found = lackOfFit(fitLine([0, 0, 1, 1, 2, 2], [0, 0, 1, 1, 4, 4]));
    expect([found.f, found.pValue]).toEqual([Number.POSITIVE_INFINITY, 0]);
  });

  it('refuses a calibration without replicates or with too few levels', () => {
    expect(() => lackOfFit(fitLine([0, 1, 2], [0, 1, 2.1]))).toThrow('no replicated level');
    expect(() => lackOfFit(fitLine([0, 0, 1, 1], [0, 0.1, 1, 1.1]))).toThrow('found 2 levels');
  });
});
