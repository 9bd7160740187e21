import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { uncertaintyAtLevel, uncertaintyFunction } from '../../src/uncertainty/uncertainty-at-level.js';

describe('uncertaintyFunction', () => {
  it('finds both parts where the uncertainties follow the function', () => {
    const part = fc.double({ min: 1e-3, max: 10, noNaN: true });
    fc.assert(
      fc.property(part, part, part, (s0, s1, unit) => {
        const levels = [0, 0.5, 1, 3].map((k) => (k * unit * s0) / s1);
        const uncertainties = levels.map((x) => Math.hypot(s0, s1 * x));
        const found = uncertaintyFunction(levels, uncertainties);
        expect(found.constantPart).toAgreeWithin(s0, 1e-6);
        expect(found.proportionalPart).toAgreeWithin(s1, 1e-6);
        expect(uncertaintyAtLevel(found, levels[2]!)).toAgreeWithin(uncertainties[2]!, 1e-9);
        for (const ratio of found.ratios) expect(ratio).toAgreeWithin(1, 1e-9);
      }),
    );
  });

  it('finds a constant part where levels hardly differ, and none that is no number', () => {
    // Two points: a + b·x² goes through both, so equal uncertainties leave a = u² and b = 0.
    const near = uncertaintyFunction([1, 1.0000000001], [1, 1]);
    expect(near.constantPart).toAgreeWithin(1, 1e-15);
    expect(near.proportionalPart).toBe(0);
    // (1 + 4e-10)·1 over x² 1 to 1 + 2e-10 rises twice as fast as proportionally: the constant part is held at 0.
    const steep = uncertaintyFunction([1, 1.0000000001], [1, 1.0000000002]);
    expect(steep.constantPart).toBe(0);
    expect(steep.proportionalPart).toAgreeWithin(1, 1e-9);
    // Uncertainties a million times apart: b = (100² − 1e-8)/(10² − 1), a below 0.
    expect(uncertaintyFunction([1, 10], [1e-4, 100]).ratios.every(Number.isFinite)).toBe(true);
    expect(() => uncertaintyFunction([0, 1e-200], [1, 1])).toThrow('levels: found 0 to 1e-200');
  });

  it('holds a part at zero that the data contradict, and says so', () => {
    const falling = uncertaintyFunction([1, 10], [0.2, 0.1]);
    expect(falling.proportionalPart).toBe(0);
    expect(falling.notes).toHaveLength(1);
    const steep = uncertaintyFunction([1, 2, 3], [0.1, 0.3, 0.6]);
    expect(steep.constantPart).toBe(0);
    expect(steep.notes).toHaveLength(1);
  });

  it.each([
    [[1], [0.1], 'at least 2'],
    [[1, 1], [0.1, 0.1], 'two different levels'],
    [[1, 2], [0.1, 0], 'found 0, expected a finite number above 0'],
    [[-1, 2], [0.1, 0.1], 'level: found -1'],
    [[1, 2], [0.1], 'expected equally many'],
  ])('refuses levels %j with %j', (levels, uncertainties, message) => {
    expect(() => uncertaintyFunction(levels, uncertainties)).toThrow(message);
  });
});
