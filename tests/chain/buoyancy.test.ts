import { describe, expect, it } from 'vitest';
import { buoyancyFactor } from '../../src/chain/buoyancy.js';
import { waterDensity } from '../../src/chain/water-density.js';

describe('buoyancy factor', () => {
  // ISO 8655-6, annex A: Z in µL/mg near 1013 hPa (remembered, recomputed with air of 1.2 kg/m³).
  it.each([
    [15, '1.0020'],
    [20, '1.0029'],
    [25, '1.0040'],
    [30, '1.0054'],
  ])('gives the Z factor of water at %d °C', (t, printed) => {
    expect((buoyancyFactor(1.2, waterDensity(t)) * 1000) / waterDensity(t)).toRoundTo(printed);
  });

  it('is 1 for an object as dense as the reference masses', () => {
    expect(buoyancyFactor(1.2, 8000)).toBe(1);
  });

  it('refuses an object no denser than air', () => {
    expect(() => buoyancyFactor(1.2, 1.2)).toThrow('expected above that of air');
    expect(() => buoyancyFactor(0, 1000)).toThrow('air density');
  });
});
