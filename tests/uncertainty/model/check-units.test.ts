import { describe, expect, it } from 'vitest';
import { checkUnits } from '../../../src/uncertainty/model/check-units.js';
import { compileModel } from '../../../src/uncertainty/model/compile-model.js';

const units = {
  c: 'mg/kg',
  c_L: 'mg/L',
  m_s: 'g',
  m_p: 'g',
  rho: 'g/mL',
  w: 'g/100 g',
  moisture: 'g/100 g',
  ratio: '1',
  theta: 'rad',
  phi: '°',
  t: 'h',
  T: '°C',
  alpha: '1/K',
  area: 'cm2',
};

function check(expression: string, unit: string, known: Record<string, string> = units): true {
  const ready = compileModel({
    title: 'test',
    equations: [{ name: 'y', description: '', unit, expression }],
    outputs: ['y'],
  });
  return checkUnits(
    ready,
    Object.entries(known).map(([name, unitText]) => ({ name, unit: unitText })),
  );
}

describe('checkUnits', () => {
  it.each([
    ['c * m_s / 1000', 'mg'],
    ['c * m_s * 1e-3', 'mg'],
    ['c * m_s', 'µg'],
    ['c_L / rho', 'mg/kg'],
    ['c_L / rho / 1000', 'mg/g'],
    ['c * m_s / m_p', 'mg/kg'],
    ['c * m_s / m_p / 10000', 'g/100 g'],
    ['w / (1 - moisture / 100)', 'g/100 g'],
    ['100 * (m_s - m_p) / m_p', '%'],
    ['(m_s - m_p) / m_p', '1'],
    ['2 * c + c', 'mg/kg'],
    ['exp(-ratio)', '1'],
    ['sqrt(m_s^2 + m_p^2)', 'g'],
    ['area^0.5', 'cm'],
    ['m_s^3 / m_p^2', 'g'],
    ['sin(theta)', '1'],
    ['sin(phi / 180 * pi)', '1', { phi: '1' }],
    ['ratio^ratio', '1'],
    ['t * 60', 'min'],
    ['t * 3600', 's'],
    ['abs(m_s - m_p)', 'g'],
    ['m_s * (1 + alpha * T)', 'g'],
    ['log10(ratio / 100)', '1', { ratio: '%' }],
    ['cbrt(m_s^3)', 'g'],
    ['m_s^(1/2) * m_p^(1/2)', 'g'],
  ])('accepts %s in %s', (expression, unit, known = units) => {
    expect(check(expression, unit, known as Record<string, string>)).toBe(true);
  });

  it.each([
    ['c * m_s', 'mg', 'lacks a conversion by 0.001', 3],
    ['c_L', 'mg/kg', 'found the unit 0.001 m^-3 kg; expected the declared mg/kg', 1],
    ['m_s + c', 'g', 'found 0.001 kg + 0.000001 1', 5],
    ['c + 1', 'mg/kg', 'expected one unit', 3],
    ['w / (1 - moisture)', 'g/100 g', 'found 1 - 0.01 1', 8],
    ['exp(m_s)', '1', 'as argument of exp; expected a pure number', 1],
    ['exp(w)', '1', 'as argument of exp', 1],
    ['log(m_s)', '1', 'as argument of log', 1],
    ['sin(phi)', '1', 'as argument of sin', 1],
    ['ratio^m_s', '1', 'as exponent', 6],
    ['m_s^ratio', 'g', 'as base of a power', 4],
    ['m_s * m_p', 'g', 'expected the declared g', 5],
    ['m_s - T', 'g', 'found 0.001 kg - K', 5],
    ['sqrt(m_s)', 'g', 'kg^0.5', 1],
    // 1 h is 3600 s: of the written 60 as a conversion, another 60 is lacking.
    ['t * 60', 's', 'lacks a conversion by 60', 3],
    // 1 is 1000000 mg/kg: the written 10000 is a part of it, 100 is lacking.
    [
      '10000 * ratio',
      'mg/kg',
      'found the unit 0.0001 1; expected the declared mg/kg (0.000001 1): the formula lacks a conversion by 100',
      7,
    ],
    ['ratio', 'mg/kg', 'lacks a conversion by 1000000', 1],
    ['m_s', 'grams', 'unit "grams", position 1', 0],
  ])('refuses %s in %s', (expression, unit, message, position) => {
    expect(() => check(expression, unit)).toThrow(message);
    if (position > 0) expect(() => check(expression, unit)).toThrow(expect.objectContaining({ position }));
  });

  it('gives a later equation the unit that an earlier one declares', () => {
    const equation = { name: 'n', description: '', unit: 'mg', expression: 'c * m_s / 1000' };
    const later = { name: 'y', description: '', unit: 'mg/g', expression: 'n / m_s' };
    const inputs = [
      { name: 'c', unit: 'mg/kg' },
      { name: 'm_s', unit: 'g' },
    ];
    const model = { title: 'test', equations: [equation, later], outputs: ['y'] };
    expect(checkUnits(compileModel(model), inputs)).toBe(true);
    const wrong = { ...model, equations: [equation, { ...later, unit: 'mg/kg' }] };
    expect(() => checkUnits(compileModel(wrong), inputs)).toThrow('equation "y"');
  });
});
