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

  it('refuses temperatures outside 0 to 40 °C', () => {
    expect(() => waterDensity(41)).toThrow('found 41, expected 0 to 40');
    expect(() => waterDensity(Number.NaN)).toThrow('found NaN');
  });
});
