import { describe, expect, it } from 'vitest';
import { logGamma } from '../../src/statistics/distributions/stirling-error.js';
import { conformanceProbability } from '../../src/uncertainty/conformity/conformance-probability.js';
import { coverageFactor } from '../../src/uncertainty/coverage-factor.js';
import { normalDistribution } from '../../src/uncertainty/distributions/normal.js';
import { evaluateProgram } from '../../src/uncertainty/expression/evaluate-program.js';
import { fromRecords } from '../../src/uncertainty/inputs/from-records.js';
import { compileModel } from '../../src/uncertainty/model/compile-model.js';
import { budgetFigures } from '../../src/uncertainty/reference-case/budget-figures.js';
import type { ReferenceCase } from '../../src/uncertainty/reference-case/reference-case.js';
import { model } from '../support/model.js';
import { reference } from '../support/reference.js';

/** Value of a one-equation model at a point given by name. */
function valueAt(expression: string, point: Readonly<Record<string, number>>): number {
  const { program } = compileModel(model({ y: expression }));
  return evaluateProgram(
    program,
    program.inputs.map((name) => point[name]!),
  )[program.results[0]!]!;
}

const about = { description: 'quantity', unit: '1', source: 'worked example', step: 'reading' };

describe('JCGM 100:2008, H.2, approach 2 (remembered and recomputed)', () => {
  const sets = [
    [5.007, 0.019663, 1.0456],
    [4.994, 0.019639, 1.0438],
    [5.005, 0.01964, 1.0468],
    [4.99, 0.019685, 1.0428],
    [4.999, 0.019678, 1.0433],
  ];

  it.each([
    ['V / I * cos(phi)', ['127.67', '127.89', '127.51', '127.71', '127.88'], '0.071'],
    ['V / I * sin(phi)', ['220.32', '219.79', '220.64', '218.97', '219.51'], '0.295'],
    ['V / I + 0 * phi', ['254.64', '254.29', '254.84', '253.49', '254.04'], '0.236'],
  ])(
    'gives five values of %s and the uncertainty of their mean',
    (expression, printed, printedUncertainty) => {
      const values = sets.map(([V, I, phi]) => valueAt(expression, { V: V!, I: I!, phi: phi! }));
      values.forEach((value, k) => {
        expect(value).toRoundTo(printed[k]!);
      });
      expect(fromRecords({ ...about, name: 'y', values }).standardUncertainty).toRoundTo(printedUncertainty);
    },
  );
});

describe('QUAM:2012, example A1, Table A1.4: spreadsheet differences', () => {
  // Table read in a public copy, detail figures remembered; u(P) = 0.000058, u(m) = 0.05 mg, u(V) = 0.07 mL.
  const formula = '1000 * m * P / V';
  const point = { P: 0.9999, m: 100.28, V: 100 };
  const at = (change: Partial<typeof point>) => valueAt(formula, { ...point, ...change });
  const columns = [at({ P: 0.999958 }), at({ m: 100.33 }), at({ V: 100.07 })];
  const differences = columns.map((column) => column - at({}));

  it('prints the columns', () => {
    expect(at({})).toRoundTo('1002.69972');
    expect(columns[0]!).toRoundTo('1002.75788');
    // Remembered as 1003.19966: 1000 × 100.33 × 0.9999 / 100 = 1003.19967 exactly.
    expect(columns[1]!).toAgreeWithin(1003.19967, 1e-14);
    expect(columns[2]!).toRoundTo('1001.99832');
  });

  it('prints differences, squares and their sum', () => {
    for (const [i, printed] of ['0.05816', '0.49995', '-0.70140'].entries()) {
      expect(differences[i]!).toRoundTo(printed);
    }
    const squares = differences.map((difference) => difference ** 2);
    for (const [i, printed] of ['0.00338', '0.24995', '0.49196'].entries()) {
      expect(squares[i]!).toRoundTo(printed);
    }
    const sum = squares.reduce((total, square) => total + square, 0);
    expect(sum).toRoundTo('0.74529');
    expect(Math.sqrt(sum)).toRoundTo('0.9');
  });
});

describe('QUAM:2012, example A4: duplicates and recovery', () => {
  // Duplicates of Table A4.1 in mg/kg (remembered; their 0.382 confirms them), recovery from the text.
  const duplicates = [
    [1.3, 1.3],
    [1.3, 0.9],
    [0.57, 0.53],
    [0.16, 0.26],
    [0.65, 0.58],
    [0.04, 0.04],
    [0.08, 0.09],
    [0.02, 0.02],
    [0.01, 0.02],
    [0.02, 0.01],
    [0.03, 0.02],
    [0.04, 0.06],
    [0.07, 0.08],
    [0.01, 0.01],
    [0.06, 0.03],
  ];

  it('gives the relative repeatability from normalised differences', () => {
    const values = duplicates.map(([a, b]) => valueAt('(a - b) / ((a + b) / 2)', { a: a!, b: b! }));
    const { standardUncertainty } = fromRecords({ ...about, name: 'd', values });
    const s = standardUncertainty * Math.sqrt(values.length);
    expect(s).toRoundTo('0.382');
    expect(s / Math.SQRT2).toRoundTo('0.27');
  });

  it('finds the recovery to differ from one', () => {
    const u = 0.28 / Math.sqrt(42);
    expect(u).toRoundTo('0.043');
    expect((1 - 0.9) / u).toRoundTo('2.31');
    expect(coverageFactor(41)).toRoundTo('2.02');
  });
});

describe('JCGM 100:2008, Table E.1 (remembered and recomputed)', () => {
  it.each([
    [2, '76'],
    [3, '52'],
    [4, '42'],
    [5, '36'],
    [10, '24'],
    [20, '16'],
    [30, '13'],
    [50, '10'],
  ])('gives the relative standard deviation of s from %d normal observations as %s %%', (n, printed) => {
    // E(s)/σ = c4 and E(s²) = σ², so that s scatters by the root of 1/c4² − 1 about its mean.
    const c4 = Math.sqrt(2 / (n - 1)) * Math.exp(logGamma(n / 2) - logGamma((n - 1) / 2));
    expect(100 * Math.sqrt(1 / c4 ** 2 - 1)).toRoundTo(printed);
  });
});

describe('JCGM 100:2008, 4.3.7, example 2 (remembered and recomputed)', () => {
  it('prints the limits ±15 µV of the voltmeter', () => {
    const limit = valueAt('1.4e-5 * V + 2e-6 * V_range', { V: 0.928571, V_range: 1 });
    expect(limit * 1e6).toRoundTo('15');
  });
});

describe('JCGM 101:2008, 9.3, Table 6: interval with second-order terms (remembered and recomputed)', () => {
  it('prints the estimate and both ends', () => {
    const mass = reference<Extract<ReferenceCase, { calculation: 'budget' }>>('uncertainty/jcgm101-93-mass');
    const figure = budgetFigures(mass.budget);
    const y = figure({ of: 'estimate', output: 'dm' });
    const u = figure({ of: 'second-order standard uncertainty', output: 'dm' });
    expect(y).toRoundTo('1.2340');
    // Printed from u as printed, 1.234 ∓ 1.96 × 0.0750; with u = 0.07496347 the ends are 1.08707 and 1.38093.
    expect(y - 1.96 * 0.075).toRoundTo('1.0870');
    expect(y + 1.96 * 0.075).toRoundTo('1.3810');
    const half = 1.959963984540054 * 0.0749634738503;
    expect(y - coverageFactor(Infinity) * u).toAgreeWithin(1.234 - half, 1e-10);
    expect(y + coverageFactor(Infinity) * u).toAgreeWithin(1.234 + half, 1e-10);
  });
});

describe('JCGM 106:2012, 7.3 and 7.4 (remembered and recomputed)', () => {
  it.each([
    ['Zener diode', '(limit - V) / u', { limit: -5.4, V: -5.47, u: 0.05 }, '1.40', '0.92'],
    ['container', '(p - limit) / u', { limit: 490, p: 507, u: 8.6 }, '1.98', '0.976'],
  ])(
    'prints the distance to the limit of the %s, in standard uncertainties',
    (_, expression, point, z, p) => {
      const distance = valueAt(expression, point);
      expect(distance).toRoundTo(z);
      expect(conformanceProbability(normalDistribution(0, 1), { upper: distance })).toRoundTo(p);
    },
  );
});

describe('Nordtest TR 537, edition 4, ammonium: biases of six tests (remembered and recomputed)', () => {
  it.each([
    [73, 75, '2.7'],
    [264, 269, '1.9'],
    [210, 213, '1.4'],
    [110, 112, '1.8'],
    [140, 144, '2.9'],
  ])('finds for %d µg/L assigned and %d µg/L found a bias of %s %%', (assigned, result, printed) => {
    expect(valueAt('100 * (found - assigned) / assigned', { found: result, assigned })).toRoundTo(printed);
  });

  it('finds for the first test 200/81 %, which rounds to 2.5, not to the remembered 2.4', () => {
    const bias = valueAt('100 * (found - assigned) / assigned', { found: 83, assigned: 81 });
    expect(bias).toAgreeWithin(200 / 81, 1e-14);
    expect(bias).toRoundTo('2.5');
  });
});

describe('QUAM:2012, example A3: U beside the summary table (remembered and recomputed)', () => {
  it('is 0.0003 mol/L of the printed u(c), 0.00016 mol/L, and 0.00037 mol/L of the parts', () => {
    const acid = reference<Extract<ReferenceCase, { calculation: 'budget' }>>(
      'uncertainty/quam-a3-hydrochloric-acid',
    );
    const expanded = budgetFigures(acid.budget)({ of: 'expanded uncertainty', output: 'c' });
    expect(2 * 0.00016).toRoundTo('0.0003');
    // rep, m, P, M, then the volumes: limits ±0.03, ±0.03 and ±0.02 mL triangular, ±4 °C × 2.1e-4/°C rectangular.
    const expansion = (4 * 2.1e-4) ** 2 / 3;
    const volumes = [0.03 / 14.89, 0.03 / 18.64, 0.02 / 15].map((limit) => limit ** 2 / 6 + expansion);
    const others = [0.001, 0.00012 / 0.3888, 0.00029, 0.0038 / 204.2212].map((u) => u ** 2);
    const relative = Math.sqrt([...volumes, ...others].reduce((sum, square) => sum + square, 0));
    const c = (1000 * 0.3888 * 14.89) / (18.64 * 204.2212 * 15);
    expect(expanded).toAgreeWithin(2 * relative * c, 1e-9);
    expect(expanded).toRoundTo('0.00037');
  });
});
