import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { studentTQuantile } from '../../../src/statistics/distributions/student-t.js';
import { fitLine } from '../../../src/statistics/regression/line.js';
import { limitsOfStandardDeviation } from '../../../src/validation/confidence-limits.js';
import {
  type DetectionApproachesOptions,
  detectionApproaches,
  detectionApproachNames,
} from '../../../src/validation/detection/detection-approaches.js';
import { detectionLimits } from '../../../src/validation/detection/detection-limits.js';
import { din32645 } from '../../../src/validation/detection/din-32645.js';
import { hubauxVos } from '../../../src/validation/detection/hubaux-vos.js';
import { methodDetectionLimit } from '../../../src/validation/detection/method-detection-limit.js';

// ISO 8466-1:1990, example: photometric calibration from 0.05 to 0.5 mg/L (remembered, recomputed).
const x = [0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5];
const y = [0.14, 0.281, 0.405, 0.535, 0.662, 0.789, 0.916, 1.058, 1.173, 1.303];
const fit = fitLine(x, y);

const batches = (values: readonly number[]) =>
  values.map((value, i) => ({ key: `${i}`, batch: `${i % 3}`, value }));

describe('limits by prediction bands (Hubaux and Vos)', () => {
  it('has its decision signal on the upper band at 0 and on the lower band at the detection limit', () => {
    const found = hubauxVos(fit);
    const band = (at: number) =>
      studentTQuantile(0.95, 8) *
      fit.residualStandardDeviation *
      Math.sqrt(1 + 1 / 10 + (at - fit.xMean) ** 2 / fit.sumOfSquaresX);
    expect(found.decisionSignal).toAgreeWithin(fit.intercept + band(0), 1e-10);
    const limit = found.detectionLimit!;
    const lower = fit.intercept + fit.slope * limit - band(limit);
    expect(lower).toAgreeWithin(found.decisionSignal, 1e-10);
    expect(limit).toBeGreaterThan(found.decisionLimit);
  });

  it('has no detection limit where the lower band never reaches the decision signal', () => {
    // 1, 3.1, 1.9 at 0, 1, 2: slope 0.45, residuals −0.55, 1.1, −0.55, s² = 1.815 with ν = 1; t = 6.314.
    const noisy = fitLine([0, 1, 2], [1, 3.1, 1.9]);
    const found = hubauxVos(noisy);
    expect(found.decisionLimit).toAgreeWithin(
      6.313751514675 * (Math.sqrt(1.815) / 0.45) * Math.sqrt(1 + 1 / 3 + 1 / 2),
      1e-10,
    );
    expect(found.detectionLimit).toBeNull();
    const lower = (at: number) =>
      noisy.intercept + noisy.slope * at - 6.313751514675 * Math.sqrt(1.815 * (4 / 3 + (at - 1) ** 2 / 2));
    for (const at of [1, 10, 1e3, 1e6]) expect(lower(at)).toBeLessThan(found.decisionSignal);
  });

  it('refuses weights and a falling line', () => {
    expect(() =>
      hubauxVos(
        fitLine(
          x,
          y,
          x.map((value) => 1 / value),
        ),
      ),
    ).toThrow(InputError);
    expect(() =>
      hubauxVos(
        fitLine(
          x,
          y.map((value) => -value),
        ),
      ),
    ).toThrow(InputError);
  });
});

describe('limits by the calibration method (DIN 32645)', () => {
  it('has its quantification limit where the interval is a third of the content', () => {
    const found = din32645(fit, { readings: 2 });
    const q = found.quantificationLimit!;
    const half =
      (fit.residualStandardDeviation / fit.slope) *
      studentTQuantile(0.975, 8) *
      Math.sqrt(1 / 2 + 1 / 10 + (q - fit.xMean) ** 2 / fit.sumOfSquaresX);
    expect(half / q).toAgreeWithin(1 / 3, 1e-10);
    expect(found.detectionLimit).toAgreeWithin(2 * found.decisionLimit, 1e-15);
  });

  it('has none where the band widens faster than the content', () => {
    const noisy = fitLine(
      x,
      y.map((value, i) => value + (i % 2 ? 0.5 : -0.5)),
    );
    expect(din32645(noisy, { k: 10 }).quantificationLimit).toBeNull();
  });
});

describe('method detection limit (40 CFR 136 Appendix B, revision 2)', () => {
  // Table of Student's t values at 99 %: 3.143 for 7, 2.998 for 8, 2.821 for 10, 2.602 for 16 replicates (remembered, recomputed).
  it.each([
    [7, '3.143'],
    [8, '2.998'],
    [10, '2.821'],
    [16, '2.602'],
  ])('uses for %d spikes the printed t of %s', (n, printed) => {
    const values = Array.from({ length: n }, (_, i) => i);
    const s = Math.sqrt(values.reduce((sum, v) => sum + (v - (n - 1) / 2) ** 2, 0) / (n - 1));
    const found = methodDetectionLimit(batches(values), batches(values));
    expect(found.fromSpikes! / s).toRoundTo(printed);
    expect(found.fromBlanks).toAgreeWithin(found.fromSpikes! + (n - 1) / 2, 1e-12);
    expect(found.value).toBe(found.fromBlanks);
  });

  it('counts a negative mean of blanks as 0 and takes the larger of the two', () => {
    const found = methodDetectionLimit(batches([1, 2, 3, 4, 5, 6, 7]), batches([-1, -2, -3, -1, -2, -3, -2]));
    expect(found.value).toBe(found.fromSpikes);
  });

  it('keeps the rules about numbers: 7 of each, 3 batches', () => {
    const one = batches([1, 2, 3, 4, 5, 6, 7]).map((row) => ({ ...row, batch: 'a' }));
    const found = methodDetectionLimit(one, batches([1, 2, 3]));
    expect(found.value).toBeNull();
    expect(found.missing).toEqual([
      'found low spikes of 1 batch(es), expected at least 3',
      'found 3 method blanks, expected at least 7',
    ]);
  });
});

describe('all approaches side by side', () => {
  const options: DetectionApproachesOptions = {
    fromBlanks: detectionLimits(
      { standardDeviation: 0.01, degreesOfFreedom: 11, limits: limitsOfStandardDeviation(0.01, 11) },
      { digestionsPerResult: 1, blanksPerResult: 12 },
    ),
    calibration: { massFraction: x, signal: y },
    background: [0.01, 0.012, 0.011, 0.009],
    lowSpikes: batches([0.1, 0.11, 0.09, 0.1, 0.12, 0.08, 0.1]),
    methodBlanks: batches([0, 0.01, -0.01, 0, 0.01, 0, -0.01]),
    readings: 3,
    solidPerUnit: 500,
    planned: 'procedure blanks',
  };

  it('gives each its figures in solution and solid, its source and why it differs', () => {
    const found = detectionApproaches(options);
    expect(found.map((row) => row.name)).toEqual([...detectionApproachNames]);
    expect(found.filter((row) => row.planned).map((row) => row.name)).toEqual(['procedure blanks']);
    for (const row of found) {
      expect(row.missing).toBeNull();
      expect(row.differs.length).toBeGreaterThan(40);
      const limit = row.detectionLimit ?? row.decisionLimit;
      expect(limit!.inSolid).toAgreeWithin(500 * limit!.inSolution, 1e-12);
    }
  });

  it('lets the other approaches stand where the line is too uncertain for prediction bands', () => {
    const found = detectionApproaches({
      ...options,
      calibration: { massFraction: [0, 1, 2], signal: [1, 3.1, 1.9] },
      background: [-1, 0.2, 0.3],
    });
    const bands = found.find((row) => row.name === 'prediction bands')!;
    expect(bands.decisionLimit!.inSolution).toBeGreaterThan(0);
    expect(bands.detectionLimit).toBeNull();
    expect(bands.missing).toContain('too uncertain');
    expect(found.find((row) => row.name === 'calibration')!.missing).toBeNull();
    expect(found.at(-1)!.missing).toContain('not above 0');
  });

  it('says what is missing where it has no figures', () => {
    const found = detectionApproaches({ ...options, fromBlanks: null, calibration: null, lowSpikes: [] });
    expect(found.map((row) => row.missing === null)).toEqual([false, false, false, false, false, false]);
    expect(found[0]!.missing).toBe('too few procedure blanks');
    expect(found[4]!.missing).toContain('found 0 low spikes');
  });
});
