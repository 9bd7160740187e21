import { describe, expect, it } from 'vitest';
import { buoyancyFactor } from '../../src/chain/buoyancy.js';
import { waterDensity } from '../../src/chain/water-density.js';

describe('buoyancy factor', () => {
  // ISO 8655-6, annex A: Z in mL/mg·10³ near 1013 hPa, printed to four decimals (remembered). The printed table rounds up
  // in the last digit at 25 °C and 30 °C because it uses the actual air density: 1.2 kg/m³ moves Z by less than 1e-4.
  it.each([
    [15, 1.002],
    [20, 1.0029],
    [25, 1.004],
    [30, 1.0054],
  ])('gives the Z factor of water at %d °C', (t, printed) => {
    const z = (buoyancyFactor(1.2, waterDensity(t)) * 1000) / waterDensity(t);
    expect(Math.abs(z - printed)).toBeLessThan(1e-4);
  });

  it('is 1 for an object as dense as the reference masses', () => {
    expect(buoyancyFactor(1.2, 8000)).toBe(1);
  });

  it('refuses an object no denser than air', () => {
    expect(() => buoyancyFactor(1.2, 1.2)).toThrow('expected above that of air');
    expect(() => buoyancyFactor(0, 1000)).toThrow('air density');
  });
});
