import { describe, expect, it } from 'vitest';
import { conversionFactor, parseUnit, sameDimension } from '../../src/quantities/unit.js';
import { dimensionText } from '../../src/quantities/unit-symbols.js';

describe('parseUnit', () => {
  it.each([
    ['1', 1, '1'],
    ['%', 0.01, '1'],
    ['mg/kg', 1e-6, '1'],
    ['g/100 g', 0.01, '1'],
    ['mg/L', 1e-3, 'm^-3 kg'],
    ['g/mL', 1000, 'm^-3 kg'],
    ['µg/g', 1e-6, '1'],
    ['g', 1e-3, 'kg'],
    ['kg', 1, 'kg'],
    ['mL', 1e-6, 'm^3'],
    ['dm3', 1e-3, 'm^3'],
    ['cm²', 1e-4, 'm^2'],
    ['cm^3', 1e-6, 'm^3'],
    ['m⁻³', 1, 'm^-3'],
    ['1/°C', 1, 'K^-1'],
    ['mg/dm2', 1e-4, 'm^-2 kg'],
    ['J/(mol K)', 1, 'm^2 kg s^-2 K^-1 mol^-1'],
    ['kg m2/s2', 1, 'm^2 kg s^-2'],
    ['kg·m^2·s^-2', 1, 'm^2 kg s^-2'],
    ['mol/L', 1000, 'm^-3 mol'],
    ['hPa', 100, 'm^-1 kg s^-2'],
    ['min', 60, 's'],
    ['nm', 1e-9, 'm'],
    ['cps', 1, 's^-1'],
    ['counts', 1, '1'],
    ['rad', 1, '1'],
    ['Ω', 1, 'm^2 kg s^-3 A^-2'],
    ['mΩ', 1e-3, 'm^2 kg s^-3 A^-2'],
  ])('reads %s', (text, scale, dimension) => {
    const unit = parseUnit(text);
    expect(unit.scale).toAgreeWithin(scale, 1e-15);
    expect(dimensionText(unit.dimension)).toBe(dimension);
  });

  it.each([
    ['', 1, 'the end'],
    ['mg/', 4, 'the end'],
    ['mg//kg', 4, '"/kg"'],
    ['m/s/s', 4, '"/s"'],
    ['J/mol K', 7, '"K"'],
    ['J/(mol K', 9, 'the end'],
    ['foo', 1, '"foo"'],
    ['mg/kg!', 6, '"!"'],
    ['ppm', 1, '"ppm"'],
    ['g·', 3, 'the end'],
    ['0 g', 1, '"0 g"'],
    ['constructor', 1, '"constructor"'],
  ])('refuses "%s" at position %i', (text, position, found) => {
    expect(() => parseUnit(text)).toThrow(`position ${position}: found ${found}`);
  });

  it('tells dimensions apart', () => {
    expect(sameDimension(parseUnit('mg/kg').dimension, parseUnit('1').dimension)).toBe(true);
    expect(sameDimension(parseUnit('mg/L').dimension, parseUnit('mg/kg').dimension)).toBe(false);
  });
});

describe('conversionFactor', () => {
  it.each([
    ['g/100 g', 'mg/kg', 10_000],
    ['mg', 'g', 0.001],
    ['g/mL', 'kg/m3', 1000],
    ['mmol/L', 'mol/m3', 1],
    ['%', '1', 0.01],
    ['h', 'min', 60],
  ])('from %s to %s is %d', (from, to, factor) => {
    expect(conversionFactor(from, to)).toBe(factor);
  });

  it('refuses units of different dimension', () => {
    expect(() => conversionFactor('mg/L', 'mg/kg')).toThrow('their dimensions differ');
  });
});
