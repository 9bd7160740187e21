import { describe, expect, it } from 'vitest';
import { atomicWeight } from '../../src/quantities/atomic-weights.js';
import { chemicalFormula, molarMass } from '../../src/quantities/chemical-formula.js';
import { oxideFactor } from '../../src/quantities/oxide.js';
import { reference } from '../support/reference.js';

// Customary conversion tables, remembered and recomputed; exceptions carry their arithmetic.
const table = reference<{
  conventionalAtomicWeights: Record<string, number>;
  published: { name: string; printed: string }[];
  exceptions: { name: string; computed: number; formerWeights: Record<string, number> }[];
}>('quantities/oxide-factors');

const exceptional = new Set(table.exceptions.map(({ name }) => name));
const withWeights = (weights: Record<string, number>) => (element: string) => ({
  value: weights[element]!,
  standardUncertainty: 0,
});

describe('oxideFactor', () => {
  it.each(table.published.filter(({ name }) => !exceptional.has(name)))('gives $printed for $name', (row) => {
    expect(oxideFactor(row.name, withWeights(table.conventionalAtomicWeights)).factor).toRoundTo(row.printed);
  });

  it.each(table.exceptions)('explains the printed factor of $name by former weights', (row) => {
    const weights = table.conventionalAtomicWeights;
    const { printed } = table.published.find(({ name }) => name === row.name)!;
    expect(oxideFactor(row.name, withWeights(weights)).factor).toAgreeWithin(row.computed, 1e-11);
    expect(oxideFactor(row.name, withWeights({ ...weights, ...row.formerWeights })).factor).toRoundTo(
      printed,
    );
  });

  it('knows the three oxides of praseodymium apart', () => {
    const [mixed, sesqui, dioxide] = ['Pr6O11', 'Pr2O3', 'PrO2'].map((oxide) => oxideFactor(oxide).factor);
    const [pr, o] = [140.90766, 15.9994];
    expect(dioxide! / sesqui!).toAgreeWithin((pr + 2 * o) / (pr + 1.5 * o), 1e-12);
    expect(sesqui!).toBeLessThan(mixed!);
    expect(mixed!).toBeLessThan(dioxide!);
  });

  it('carries the uncertainty of both atomic weights', () => {
    const found = oxideFactor('ZrO2');
    const step = 1e-5;
    const moved = (element: string) => (name: string) => ({
      value: atomicWeight(name).value + (name === element ? step : 0),
      standardUncertainty: 0,
    });
    const byElement = (oxideFactor('ZrO2', moved('Zr')).factor - found.factor) / step;
    const byOxygen = (oxideFactor('ZrO2', moved('O')).factor - found.factor) / step;
    expect(found.sensitivityToElement).toAgreeWithin(byElement, 1e-5);
    expect(found.sensitivityToOxygen).toAgreeWithin(byOxygen, 1e-5);
    const u = Math.hypot(
      byElement * atomicWeight('Zr').standardUncertainty,
      byOxygen * atomicWeight('O').standardUncertainty,
    );
    expect(found.standardUncertainty).toAgreeWithin(u, 1e-5);
  });

  it.each(['ZrSiO4', 'O2', 'Zr', 'Al2S3'])('refuses %s, which is no oxide of one element', (formula) => {
    expect(() => oxideFactor(formula)).toThrow('expected one element with oxygen');
  });
});

describe('chemicalFormula', () => {
  it.each([
    ['Pr6O11', { Pr: 6, O: 11 }],
    ['Li2B4O7', { Li: 2, B: 4, O: 7 }],
    ['(NH4)2SO4', { N: 2, H: 8, S: 1, O: 4 }],
    ['Ca3(PO4)2', { Ca: 3, P: 2, O: 8 }],
    ['CO', { C: 1, O: 1 }],
    ['Co', { Co: 1 }],
    ['CH3COOH', { C: 2, H: 4, O: 2 }],
  ])('counts the atoms of %s', (formula, counts) => {
    expect(Object.fromEntries(chemicalFormula(formula))).toEqual(counts);
  });

  it.each([
    ['', 'position 1: found no element'],
    ['al2O3', 'position 1: found "a"'],
    ['Al2 O3', 'position 4: found " "'],
    ['Xx2', 'found element "Xx"'],
    ['(OH', 'position 4: found the end inside a group'],
    ['OH)', 'position 3: found ")"'],
    ['()2', 'position 2: found ")"'],
    ['Al0', 'position 1: found the count 0'],
    ['Al9999', 'found the count 9999'],
  ])('refuses "%s"', (formula, message) => {
    expect(() => chemicalFormula(formula)).toThrow(message);
  });
});

describe('molarMass', () => {
  // QUAM:2012, example A2, step 3 (read in a public copy; weights of its time): M(KHP) = 204.2212, u = 0.0038 g/mol.
  it('gives that of potassium hydrogen phthalate', () => {
    const weights: Record<string, [number, number]> = {
      C: [12.0107, 0.0008],
      H: [1.00794, 0.00007],
      O: [15.9994, 0.0003],
      K: [39.0983, 0.0001],
    };
    const found = molarMass('C8H5O4K', (element) => {
      const [value, interval] = weights[element]!;
      return { value, standardUncertainty: interval / Math.sqrt(3) };
    });
    expect(found.value).toRoundTo('204.2212');
    expect(found.standardUncertainty).toRoundTo('0.0038');
  });
});
