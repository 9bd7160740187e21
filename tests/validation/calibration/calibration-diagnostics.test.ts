import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { calibrationDiagnostics } from '../../../src/validation/calibration/calibration-diagnostics.js';

describe('tests beside the verdict on linearity', () => {
  // ISO 8466-1:1990, example (remembered, recomputed): s_y 0.005; Mandel's test value 0.81 is below F(0.99; 1, 7) = 12.25.
  const x = [0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5];
  const y = [0.14, 0.281, 0.405, 0.535, 0.662, 0.789, 0.916, 1.058, 1.173, 1.303];

  it('gives the example of ISO 8466-1', () => {
    const found = calibrationDiagnostics(x, y);
    expect(found.fit.slope).toRoundTo('2.575');
    expect(found.fit.residualStandardDeviation).toRoundTo('0.005');
    expect(found.mandel!.f).toAgreeWithin(0.807922485038, 1e-9);
    expect(found.lackOfFit).toBeNull();
    expect(found.notes).toEqual(['No level has independent replicates: lack of fit cannot be tested.']);
  });

  it('tests lack of fit where levels are replicated', () => {
    const found = calibrationDiagnostics([...x, ...x], [...y, ...y.map((value) => value + 0.002)]);
    expect(found.lackOfFit!.degreesOfFreedomPureError).toBe(10);
  });

  it('refuses lists of unequal length', () => {
    expect(() => calibrationDiagnostics([1, 2, 3], [1, 2])).toThrow(InputError);
  });
});
