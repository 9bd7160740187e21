import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { interferenceCheck } from '../../../src/validation/selectivity/interference-check.js';
import { criterion, valuesWith } from '../support.js';

const options = {
  analyte: 'Al',
  level: 'low',
  unit: 'mg/kg',
  criterion: criterion('within', 5, '%'),
  interferent: 'Zr',
  inCheckMgPerKg: 1000,
  inSampleMgPerKg: 900,
  solidPerUnit: 500,
  reference: 1850,
  corrected: false,
};

const rows = (values: readonly number[]) =>
  values.map((value, i) => ({ key: `I-${i}`, run: `R-${i}`, value }));

describe('interference check', () => {
  it('carries the apparent content to a sample of the level', () => {
    // 0.5 mg/kg apparent from 1000 mg/kg Zr: K = 5e-4; at 900 mg/kg and 500 in the solid: 225 mg/kg, of 1850 12.16 %.
    const found = interferenceCheck(rows(valuesWith(0.5, 0.01, 4)), options);
    expect(found.coefficient).toAgreeWithin(5e-4, 1e-12);
    expect(found.apparentInSolid).toAgreeWithin(225, 1e-12);
    expect(found.finding.estimate).toAgreeWithin(22500 / 1850, 1e-12);
    expect(found.finding.verdict).toBe('not met');
  });

  it('is met where nothing is feigned, and judges both signs of an over-correction', () => {
    expect(interferenceCheck(rows(valuesWith(0, 0.01, 4)), options).finding.verdict).toBe('met');
    expect(interferenceCheck(rows(valuesWith(-0.5, 0.01, 4)), options).finding.verdict).toBe('not met');
  });

  it('counts a run once', () => {
    const repeated = rows([0.01, 0.02]).flatMap((row) => [row, row, row]);
    expect(interferenceCheck(repeated, options).runMeans.length).toBe(2);
  });

  it('can be judged in the unit of the results', () => {
    const absolute = { ...options, criterion: criterion('within', 300, 'mg/kg') };
    const found = interferenceCheck(rows(valuesWith(0.5, 0.01, 4)), absolute);
    expect(found.finding.estimate).toAgreeWithin(225, 1e-12);
    expect(found.finding.verdict).toBe('met');
  });

  it('shows nothing from one run', () => {
    expect(interferenceCheck(rows([0]), options).finding.verdict).toBe('not shown');
  });

  it('refuses no reading and a check solution without interferent', () => {
    expect(() => interferenceCheck([], options)).toThrow(InputError);
    expect(() => interferenceCheck(rows([0, 1]), { ...options, inCheckMgPerKg: 0 })).toThrow(InputError);
  });
});
