import { describe, expect, it } from 'vitest';
import { airDensity } from '../../src/chain/air-density.js';

// Picard, Davis, Gläser, Fujii, Metrologia 45 (2008) 149 (CIPM-2007). Constants and rounded sensitivities remembered, recomputed.
describe('density of moist air', () => {
  const reference = { temperatureC: 20, pressurePa: 101325, relativeHumidity: 0.5 };

  it('has the molar mass ratio of equation 3: 3.483 740 g K/J for dry air at 400 µmol/mol CO2', () => {
    // At low pressure dry air is ideal: ρ T / p tends to Ma/R.
    const dry = (pressurePa: number) =>
      (airDensity({ temperatureC: 20, pressurePa, relativeHumidity: 0 }) * 293.15) / pressurePa;
    // Parabola through 60, 85 and 110 kPa: Z has terms of p/T up to the square.
    const extrapolated =
      dry(60_000) * ((85 * 110) / (25 * 50)) -
      dry(85_000) * ((60 * 110) / (25 * 25)) +
      dry(110_000) * ((60 * 85) / (50 * 25));
    expect(extrapolated * 1000).toRoundTo('3.483740');
  });

  it('has 1 − Mv/Ma of equation 3: 0.3780', () => {
    // The slope of ln ρ over the amount fraction of vapour is −(1 − Mv/Ma) where the air is ideal, at pressure 0.
    // Enhancement and saturation pressure at 20 °C by appendix A.1.
    const saturation = Math.exp(
      1.2378847e-5 * 293.15 ** 2 - 1.9121316e-2 * 293.15 + 33.93711047 - 6.3431645e3 / 293.15,
    );
    const slope = (pressurePa: number) => {
      const step = 1e-3;
      const at = (relativeHumidity: number) =>
        Math.log(airDensity({ temperatureC: 20, pressurePa, relativeHumidity }));
      const vapour = (step * (1.00062 + 3.14e-8 * pressurePa + 5.6e-7 * 400) * saturation) / pressurePa;
      return (at(0) - at(step)) / vapour;
    };
    expect(slope(60_000) + ((slope(60_000) - slope(110_000)) / 50_000) * 60_000).toRoundTo('0.3780');
  });

  // The equation with its remembered constants, computed apart from this program to 12 digits.
  it.each([
    [20, 101_325, 0.5, 1.19931389547],
    [23, 100_000, 0.5, 1.17048734807],
    [15, 101_325, 0, 1.22552134473],
  ])('is at %d °C, %d Pa and relative humidity %d the figure computed apart', (t, p, h, expected) => {
    expect(airDensity({ temperatureC: t, pressurePa: p, relativeHumidity: h })).toAgreeWithin(
      expected,
      1e-11,
    );
  });

  it('has the relative sensitivities of table 2 (1e-5 per Pa, -4e-3 per K, -9e-3, 0.4)', () => {
    const change = (to: object, step: number) =>
      (Math.log(airDensity({ ...reference, ...to })) - Math.log(airDensity(reference))) / step;
    expect(change({ pressurePa: 101326 }, 1)).toRoundTo('1e-5');
    expect(change({ temperatureC: 20.001 }, 0.001)).toRoundTo('-4e-3');
    expect(change({ relativeHumidity: 0.501 }, 0.001)).toRoundTo('-9e-3');
    expect(change({ carbonDioxide: 0.00041 }, 0.00001)).toRoundTo('0.4');
  });

  it('agrees with the simplified formula of OIML R 111-1:2004, E.3 to its stated 2e-4', () => {
    // OIML R 111-1:2004, equation E.3-1, from memory: relative uncertainty 2e-4 for 900 < p < 1100 hPa, 10 < t < 30 °C, h < 80 %.
    const simplified = (t: number, hPa: number, h: number) =>
      (0.34848 * hPa - 0.009 * h * Math.exp(0.061 * t)) / (273.15 + t);
    for (const [t, hPa, h] of [
      [20, 1013.25, 50],
      [16, 950, 20],
      [26, 1050, 75],
    ] as const) {
      const exact = airDensity({ temperatureC: t, pressurePa: hPa * 100, relativeHumidity: h / 100 });
      expect(exact).toAgreeWithin(simplified(t, hPa, h), 2e-4);
    }
  });

  it('refuses a state outside the range of the equation, with the value found', () => {
    expect(() => airDensity({ ...reference, temperatureC: 35 })).toThrow('air temperature in °C: found 35');
    expect(() => airDensity({ ...reference, relativeHumidity: 50 })).toThrow(
      'relative humidity as a fraction: found 50',
    );
    expect(() => airDensity({ ...reference, pressurePa: 1013 })).toThrow('air pressure in Pa: found 1013');
  });
});
