import { describe, expect, it } from 'vitest';
import { waterDensity } from '../../src/chain/water-density.js';

describe('density of water', () => {
  it.each([
    [4, '999.9749'],
    [15, '999.1026'],
    [20, '998.2067'],
    [25, '997.0470'],
    [30, '995.6488'],
  ])(
    'at %d °C is the published %s kg/m³ (Tanaka et al., Metrologia 38 (2001) 301; remembered, recomputed)',
    (t, printed) => {
      expect(waterDensity(t)).toRoundTo(printed);
    },
  );

  it('is 999.7027 kg/m³ at 10 °C, not the remembered 999.7025', () => {
    // Tanaka's equation by hand: 6.016965² × 311.797 / (522528.9 × 79.34881) = 2.722552e-4.
    expect(waterDensity(10)).toRoundTo('999.7027');
    expect(1 - waterDensity(10) / 999.97495).toAgreeWithin(
      (6.016965 ** 2 * 311.797) / (522528.9 * 79.34881),
      1e-9,
    );
  });

  it('refuses temperatures outside 0 to 40 °C', () => {
    expect(() => waterDensity(41)).toThrow('found 41, expected 0 to 40');
    expect(() => waterDensity(Number.NaN)).toThrow('found NaN');
  });
});
