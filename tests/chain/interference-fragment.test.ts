import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { correctInterference, type InterferenceCoefficient } from '../../src/chain/interference.js';
import { interferenceFragment } from '../../src/chain/interference-fragment.js';
import { recordedValue } from '../../src/chain/model-fragment.js';
import { resultModel, resultValue } from '../../src/chain/result-model.js';
import type { InputQuantity } from '../../src/uncertainty/input-quantity.js';
import { propagate } from '../../src/uncertainty/propagate.js';
import { observation } from './hand-computed/chain-example.js';

const k = (analyte: string, interferent: string, value: number): InterferenceCoefficient => ({
  analyte,
  interferent,
  value,
  standardUncertainty: 0.02 * Math.abs(value) + 1e-6,
  source: `${interferent} on ${analyte}`,
});

const relative = 0.004;

/** Contents by the equations, with u where the apparent ones are uncertain by 0.4 %. */
function byEquations(apparent: Readonly<Record<string, number>>, own: readonly InterferenceCoefficient[]) {
  const names = Object.keys(apparent);
  const { equations, inputs } = interferenceFragment(names, own);
  const signals = names.map(
    (name): InputQuantity => ({
      ...recordedValue(`app_${name}`, name, 'mg/kg', apparent[name]!, 'calibration', 'test'),
      standardUncertainty: relative * Math.abs(apparent[name]!),
    }),
  );
  const outputs = names.map((name) => `c_${name}`);
  const found = propagate({ title: 'contents', equations, outputs }, [...signals, ...inputs], []);
  return found.outputs.map(({ estimate, standardUncertainty }) => ({ estimate, standardUncertainty }));
}

/** The same by Gaussian elimination in numbers, u by five-point differentiation of it. */
function byNumbers(apparent: Readonly<Record<string, number>>, own: readonly InterferenceCoefficient[]) {
  const names = Object.keys(apparent);
  const variances = names.map(() => 0);
  const add = (u: number, shifted: (by: number) => Record<string, number>) => {
    const [a, b, c, d] = [-2, -1, 1, 2].map((times) => shifted(times * u)) as [
      Record<string, number>,
      Record<string, number>,
      Record<string, number>,
      Record<string, number>,
    ];
    names.forEach((name, i) => {
      variances[i]! += ((8 * (c[name]! - b[name]!) - (d[name]! - a[name]!)) / 12) ** 2;
    });
  };
  for (const name of names) {
    add(relative * Math.abs(apparent[name]!), (by) =>
      correctInterference({ ...apparent, [name]: apparent[name]! + by }, own),
    );
  }
  for (const each of own) {
    add(each.standardUncertainty, (by) =>
      correctInterference(
        apparent,
        own.map((other) => (other === each ? { ...each, value: each.value + by } : other)),
      ),
    );
  }
  const contents = correctInterference(apparent, own);
  return names.map((name, i) => ({
    estimate: contents[name]!,
    standardUncertainty: Math.sqrt(variances[i]!),
  }));
}

function expectSame(apparent: Readonly<Record<string, number>>, own: readonly InterferenceCoefficient[]) {
  const numbers = byNumbers(apparent, own);
  byEquations(apparent, own).forEach(({ estimate, standardUncertainty }, i) => {
    expect(estimate).toAgreeWithin(numbers[i]!.estimate, 1e-12);
    expect(standardUncertainty).toAgreeWithin(numbers[i]!.standardUncertainty, 1e-8);
  });
}

describe('the interference correction written out as equations', () => {
  it('solves three analytes that disturb each other in a circle, as by hand', () => {
    // Al + 0.01·Ti = 4.05, Ti + 0.02·Fe = 5.06, Fe + 0.03·Al = 3.12 for Al 4, Ti 5, Fe 3.
    const own = [k('Al', 'Ti', 0.01), k('Ti', 'Fe', 0.02), k('Fe', 'Al', 0.03)];
    const found = byEquations({ Al: 4.05, Ti: 5.06, Fe: 3.12 }, own).map(({ estimate }) => estimate);
    [4, 5, 3].forEach((content, i) => {
      expect(found[i]).toAgreeWithin(content, 1e-14);
    });
  });

  it('solves a circle that others disturb, and that disturbs others', () => {
    const own = [
      ...[k('Al', 'Ti', 0.01), k('Ti', 'Fe', 0.02), k('Fe', 'Al', 0.03), k('Al', 'Fe', -0.004)],
      ...[k('Al', 'Zr', 5e-4), k('Fe', 'Zr', 1e-4), k('Ca', 'Al', 0.02), k('Ca', 'Zr', 2e-4)],
    ];
    expectSame({ Ca: 0.7, Al: 4.1, Ti: 1.4, Fe: 1.1, Zr: 925 }, own);
  });

  it('leaves two that disturb each other in closed form', () => {
    const { equations } = interferenceFragment(['Al', 'Zr'], [k('Al', 'Zr', 1e-3), k('Zr', 'Al', 2e-3)]);
    expect(equations[0]!.expression).toBe('((app_Al) - K_Al_Zr * (app_Zr)) / (1 - K_Al_Zr * K_Zr_Al)');
  });

  it('agrees with elimination in numbers, and u with numeric differentiation, for any matrix near unity', () => {
    const symbols = ['Al', 'Ti', 'Fe', 'Zr', 'Ca'];
    const pairs = symbols.flatMap((a) => symbols.filter((b) => b !== a).map((b) => [a, b] as const));
    const entry = fc.option(fc.double({ min: -0.05, max: 0.05, noNaN: true }), { nil: null });
    const contents = fc.tuple(...symbols.map(() => fc.double({ min: 1, max: 10, noNaN: true })));
    fc.assert(
      fc.property(contents, fc.tuple(...pairs.map(() => entry)), (values, entries) => {
        const apparent = Object.fromEntries(symbols.map((name, i) => [name, values[i]!]));
        const own = pairs.flatMap(([a, b], i) => (entries[i] === null ? [] : [k(a, b, entries[i]!)]));
        const numbers = byNumbers(apparent, own);
        byEquations(apparent, own).forEach(({ estimate, standardUncertainty }, i) => {
          // A content may come near 0: agreement is asked relative to the apparent one.
          const scale = apparent[symbols[i]!]!;
          expect(Math.abs(estimate - numbers[i]!.estimate) / scale).toBeLessThan(1e-12);
          expect(standardUncertainty).toAgreeWithin(numbers[i]!.standardUncertainty, 1e-8);
        });
      }),
      { numRuns: 60 },
    );
  });

  it('gives a result of three analytes in a circle its uncertainty', () => {
    const one = observation({});
    const [own] = one.signals;
    const signals = [own!, ...['Ti', 'Fe'].map((analyte, i) => signalOf(analyte, i))];
    function signalOf(analyte: string, i: number) {
      const stock = { ...own!.stock!, name: `${analyte}-1000` };
      const lineNm = 300 + i;
      const calibration = { ...own!.calibration, analyte, lineNm };
      return { ...own!, analyte, lineNm, stock, calibration, meanRatio: 0.15 + 0.1 * i };
    }
    const interference = [k('Al', 'Ti', 0.01), k('Ti', 'Fe', 0.02), k('Fe', 'Al', 0.03)];
    const circle = { ...one, signals, interference };
    const { model, inputs, correlations } = resultModel(circle, { route: 'components', unexplained: null });
    const output = propagate(model, inputs, correlations).outputs[0]!;
    expect(output.estimate).toAgreeWithin(resultValue(circle), 1e-13);
    // ∂w/∂K of the far side of the circle, by central difference.
    const at = (by: number) =>
      resultValue({
        ...circle,
        interference: interference.map((each) =>
          each.analyte === 'Ti' ? { ...each, value: each.value + by } : each,
        ),
      });
    expect(output.sensitivities.K_Ti_Fe).toAgreeWithin((at(1e-4) - at(-1e-4)) / 2e-4, 1e-7);
    expect(output.standardUncertainty).toBeGreaterThan(0);
  });
});
