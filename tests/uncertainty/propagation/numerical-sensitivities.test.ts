import { describe, expect, it } from 'vitest';
import { numericalSensitivities } from '../../../src/uncertainty/propagation/numerical-sensitivities.js';
import { input } from '../../support/input.js';
import { model } from '../../support/model.js';

describe('numericalSensitivities', () => {
  it('agrees with exact coefficients in models of all kinds', () => {
    const formulas = model({
      n: 'c * m - b',
      y: 'n / (p * (1 - d)) / r * exp(-k) + sqrt(m)',
      z: 'log(c) - sin(m) + 0 * k',
    });
    const inputs = [
      input('c', 12.3, 0.2),
      input('m', 100.2, 0.001),
      input('b', 0.004, 0.002),
      input('p', 0.2, 1e-4),
      input('d', 1e-7, 1e-3),
      input('r', 0.97, 0.01),
      input('k', 0, 0.01),
    ];
    const checks = numericalSensitivities(formulas, inputs);
    expect(checks).toHaveLength(21);
    for (const check of checks) {
      expect(check.agrees, `${check.output} by ${check.input}: ${check.relativeDifference}`).toBe(true);
    }
  });

  it('shows where a model bends within the uncertainty', () => {
    const [check] = numericalSensitivities(model({ y: 'a^3' }), [input('a', 1, 0.5)]);
    expect(check!.coefficient).toAgreeWithin(3, 1e-14);
    expect(check!.overUncertainty).toAgreeWithin(3.25, 1e-14);
  });

  it('takes smaller steps near the edge of where a model has values', () => {
    const [check] = numericalSensitivities(model({ y: 'log(a - 1)' }), [input('a', 1.001, 0.01)]);
    expect(check!.coefficient).toAgreeWithin(1000, 1e-9);
    expect(check!.agrees).toBe(true);
    expect(check!.overUncertainty).toBeNull();
  });
});
