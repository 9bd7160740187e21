import { describe, expect, it } from 'vitest';
import { driftFactor } from '../../src/chain/drift.js';

describe('drift factor', () => {
  it('interpolates between the neighbouring checks and is 1 at the first', () => {
    const at = (position: number) => driftFactor([8, 18, 28], [0.5, 0.51, 0.49], 0.001, position);
    expect(at(8).factor).toBe(1);
    expect(at(13).factor).toAgreeWithin(1.01, 1e-15);
    expect(at(23).factor).toAgreeWithin(1.0, 1e-15);
    expect(at(3).factor).toBe(1);
    expect(at(40).factor).toAgreeWithin(0.98, 1e-15);
  });

  it('propagates the checks it rests on, the first one counted once', () => {
    // At the first check numerator and denominator are one reading: the factor is exactly 1.
    expect(driftFactor([8, 18], [0.5, 0.51], 0.001, 8).standardUncertainty).toBe(0);
    // Midway between first and second: ∂f/∂r₁ = (1/2)/r₁ − f/r₁, ∂f/∂r₂ = (1/2)/r₁, f = 1.01.
    const expected = 0.001 * Math.hypot((0.5 - 1.01) / 0.5, 0.5 / 0.5);
    expect(driftFactor([8, 18], [0.5, 0.51], 0.001, 13).standardUncertainty).toAgreeWithin(expected, 1e-14);
  });

  it('refuses places out of order, no check, and a ratio of zero', () => {
    expect(() => driftFactor([8, 8], [0.5, 0.5], 0, 8)).toThrow('found 8 after 8');
    expect(() => driftFactor([], [], 0, 8)).toThrow('found 0 value(s)');
    expect(() => driftFactor([1], [0], 0, 8)).toThrow('expected above 0');
    // Between two such checks the factor would be 0, and the result infinite.
    expect(() => driftFactor([8, 18, 28], [0.5, 0, 0], 0, 9)).toThrow(
      'signal ratio of the check solution at place 18: found 0, expected above 0',
    );
  });
});
