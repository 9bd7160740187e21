import { describe, expect, it } from 'vitest';
import { coverageFactor } from '../../src/uncertainty/coverage-factor.js';
import { evaluateProgram } from '../../src/uncertainty/expression/evaluate-program.js';
import { fromRecords } from '../../src/uncertainty/inputs/from-records.js';
import { compileModel } from '../../src/uncertainty/model/compile-model.js';
import { model } from '../support/model.js';

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
