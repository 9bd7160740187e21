import { describe, expect, it } from 'vitest';
import { studentTQuantile } from '../../../src/statistics/distributions/student-t.js';
import { calibrationDetection } from '../../../src/statistics/regression/calibration-detection.js';
import { inversePrediction } from '../../../src/statistics/regression/inverse-prediction.js';
import { fitLine } from '../../../src/statistics/regression/line.js';
import { randomStream } from '../../../src/uncertainty/random-stream.js';

describe('detection capability of a calibration line', () => {
  const fit = fitLine([0, 0, 1, 1, 2, 2, 4, 4], [0.1, -0.1, 1.05, 0.9, 2.1, 1.95, 4.1, 3.85]);

  it('is t standard uncertainties of a net value at x = 0', () => {
    const { criticalValue } = calibrationDetection(fit, { m: 3 });
    const atZero = inversePrediction(fit, fit.intercept, 3);
    expect(criticalValue).toAgreeWithin(studentTQuantile(0.95, 6) * atZero.standardUncertainty, 1e-12);
  });

  // Currie, IUPAC Recommendations 1995: with alpha = beta the noncentrality is a little less than 2t (remembered; the table is
  // tested with the distribution).
  it('has a minimum detectable value a little below twice the critical one', () => {
    const found = calibrationDetection(fit);
    expect(found.minimumDetectable / found.criticalValue).toBeLessThan(2);
    expect(found.minimumDetectable / found.criticalValue).toBeGreaterThan(1.85);
  });

  it('does not mind whether the line rises or falls', () => {
    const falling = fitLine(
      fit.x,
      fit.y.map((y) => -y),
    );
    expect(calibrationDetection(falling).criticalValue).toAgreeWithin(
      calibrationDetection(fit).criticalValue,
      1e-13,
    );
  });

  it('errs as promised: false positives at 0 and false negatives at the minimum detectable value', () => {
    // 2000 seeded calibrations of known line and spread; 5 % ± 3.3·√(2000·0.05·0.95) is 68 to 132.
    const stream = randomStream(3, 'detection');
    const x = [0, 0, 0.5, 1, 1.5, 2, 3, 4];
    const sigma = 0.05;
    const spread = Math.sqrt(1 + 1 / 8 + 1.5 ** 2 / x.reduce((sum, v) => sum + (v - 1.5) ** 2, 0));
    // The value that is missed in 5 % of calibrations is δ·σ/b·spread with the true σ and b.
    const { delta } = calibrationDetection(fit);
    const detectable = delta * sigma * spread;
    let positives = 0;
    let negatives = 0;
    for (let trial = 0; trial < 2000; trial++) {
      const line = fitLine(
        x,
        x.map((v) => 1 + v + sigma * stream.normal()),
      );
      const { criticalValue } = calibrationDetection(line);
      if (inversePrediction(line, 1 + sigma * stream.normal(), 1).x > criticalValue) positives++;
      if (inversePrediction(line, 1 + detectable + sigma * stream.normal(), 1).x < criticalValue) negatives++;
    }
    for (const count of [positives, negatives]) {
      expect(count).toBeGreaterThanOrEqual(68);
      expect(count).toBeLessThanOrEqual(132);
    }
  });

  it('refuses a slope of 0 and settings out of range', () => {
    expect(() => calibrationDetection(fitLine([0, 1, 2, 3], [1, 2, 2, 1]))).toThrow('slope: found 0');
    expect(() => calibrationDetection(fit, { m: 0 })).toThrow('number of readings: found 0');
    expect(() => calibrationDetection(fit, { alpha: 1 })).toThrow('alpha: found 1');
    expect(() => calibrationDetection(fit, { weight: -1 })).toThrow('weight: found -1');
  });
});
