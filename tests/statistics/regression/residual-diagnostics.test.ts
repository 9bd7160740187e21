import { describe, expect, it } from 'vitest';
import { fitLine } from '../../../src/statistics/regression/line.js';
import { fitPolynomial } from '../../../src/statistics/regression/polynomial.js';
import { residualDiagnostics } from '../../../src/statistics/regression/residual-diagnostics.js';

describe('residual diagnostics', () => {
  const x = [0, 1, 2, 3, 4, 8];
  const y = [0.1, 1.2, 1.8, 3.1, 4.6, 7.7];
  const weights = [4, 3, 2, 2, 1, 0.5];

  it('Cook: the distance is the shift of the weighted fit when the point is left out', () => {
    const fit = fitLine(x, y, weights);
    residualDiagnostics(fit).forEach((found, i) => {
      const drop = <T>(list: readonly T[]) => list.filter((_, k) => k !== i);
      const rest = fitLine(drop(x), drop(y), drop(weights));
      const shift = x.reduce(
        (sum, v, k) => sum + weights[k]! * (rest.intercept + rest.slope * v - fit.fitted[k]!) ** 2,
        0,
      );
      expect(found.cooksDistance).toAgreeWithin(shift / (2 * fit.residualStandardDeviation ** 2), 1e-10);
      const gap = y[i]! - rest.intercept - rest.slope * x[i]!;
      const spread =
        rest.residualStandardDeviation *
        Math.sqrt(1 / weights[i]! + 1 / rest.sumOfWeights + (x[i]! - rest.xMean) ** 2 / rest.sumOfSquaresX);
      expect(found.studentised).toAgreeWithin(gap / spread, 1e-10);
    });
  });

  it('standardises by the residual standard deviation and the leverage', () => {
    const fit = fitPolynomial(x, y, 2);
    residualDiagnostics(fit).forEach((found, i) => {
      const scale = fit.residualStandardDeviation * Math.sqrt(1 - fit.leverages[i]!);
      expect(found.standardised).toAgreeWithin(fit.residuals[i]! / scale, 1e-12);
    });
  });

  it('marks the one point beside an otherwise perfect line as infinitely far', () => {
    const found = residualDiagnostics(fitLine([0, 1, 2, 3, 4], [0, 1, 2.5, 3, 4]));
    expect(found[2]!.studentised).toBe(Number.POSITIVE_INFINITY);
    expect(Number.isFinite(found[1]!.studentised)).toBe(true);
  });

  it('refuses a perfect fit, points that fix a parameter alone and too few degrees of freedom', () => {
    expect(() => residualDiagnostics(fitLine([0, 1, 2], [0, 1, 2]))).toThrow('perfect fit');
    expect(() => residualDiagnostics(fitLine([0, 0, 0, 1], [0, 0.1, 0.2, 1]))).toThrow(
      'point 4: found leverage 1',
    );
    expect(() => residualDiagnostics(fitLine([0, 1, 2], [0, 1.1, 2]))).toThrow('degrees of freedom: found 1');
  });
});
