import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { InputQuantity } from '../../../src/uncertainty/input-quantity.js';
import { propagate } from '../../../src/uncertainty/propagate.js';
import { type SimulatedOutput, simulateInThread } from '../../../src/uncertainty/simulation/simulate.js';
import { input } from '../../support/input.js';
import { model } from '../../support/model.js';

const trials = 20_000;
/** With 40 random cases of several figures, one in 10⁶ keeps false alarms away, whatever the seed. */
const reach = 5;

const quantity = fc.record({
  estimate: fc.double({ min: -100, max: 100, noNaN: true }),
  relative: fc.double({ min: 0.001, max: 0.2, noNaN: true }),
  slope: fc.integer({ min: -50, max: 50 }).map((tenths) => tenths / 10),
  isRectangular: fc.boolean(),
});

const made = (name: string, estimate: number, u: number, isRectangular: boolean): InputQuantity =>
  input(
    name,
    estimate,
    u,
    isRectangular ? { distribution: { kind: 'rectangular', halfWidth: u * Math.sqrt(3) } } : {},
  );

function expectNear(output: SimulatedOutput, mean: number, u: number): void {
  const error = output.numericalStandardErrors;
  expect(Math.abs(output.estimate - mean)).toBeLessThanOrEqual(
    reach * error.estimate + 1e-12 * Math.abs(mean),
  );
  expect(Math.abs(output.standardUncertainty! - u)).toBeLessThanOrEqual(
    reach * error.standardUncertainty! + 1e-12,
  );
}

describe('properties of simulation', () => {
  it('a linear model agrees with exact algebra', () => {
    fc.assert(
      fc.property(
        fc.array(quantity, { minLength: 1, maxLength: 6 }),
        fc.integer({ min: 0, max: 2 ** 40 }),
        (parts, seed) => {
          const inputs = parts.map((part, i) =>
            made(`x${i}`, part.estimate, 0.1 + part.relative * 10, part.isRectangular),
          );
          const formula = parts.map((part, i) => `(${part.slope}) * x${i}`).join(' + ');
          const exact = propagate(model({ y: formula }), inputs).outputs[0]!;
          const output = simulateInThread(model({ y: formula }), inputs, [], { seed, trials }).outputs[0]!;
          expectNear(output, exact.estimate, exact.standardUncertainty);
        },
      ),
      { numRuns: 40 },
    );
  });

  it('a product of powers agrees with the moments of its factors, and with relative quadrature where they are narrow', () => {
    const power = fc.record({
      estimate: fc.double({ min: 0.5, max: 20, noNaN: true }),
      relative: fc.double({ min: 0.0005, max: 0.004, noNaN: true }),
      exponent: fc.constantFrom(-2, -1, -0.5, 0.5, 1, 2, 3),
    });
    fc.assert(
      fc.property(
        fc.array(power, { minLength: 1, maxLength: 5 }),
        fc.integer({ min: 0, max: 1e9 }),
        (parts, seed) => {
          const inputs = parts.map((part, i) => input(`x${i}`, part.estimate, part.estimate * part.relative));
          const formula = parts.map((part, i) => `x${i}^(${part.exponent})`).join(' * ');
          const output = simulateInThread(model({ y: formula }), inputs, [], { seed, trials }).outputs[0]!;
          const value = parts.reduce((product, part) => product * part.estimate ** part.exponent, 1);
          const relative = Math.sqrt(
            parts.reduce((sum, part) => sum + (part.exponent * part.relative) ** 2, 0),
          );
          // Beyond first order the relative standard deviation changes by no more than some (p·u)² of itself.
          const bend = parts.reduce((sum, part) => sum + (part.exponent * part.relative) ** 2, 0) * 20;
          const error = output.numericalStandardErrors.standardUncertainty! / value;
          expect(Math.abs(output.standardUncertainty! / value - relative)).toBeLessThanOrEqual(
            reach * error + bend * relative,
          );
        },
      ),
      { numRuns: 40 },
    );
  });

  it('a unit scaled by a power of two scales every figure by it, to the last bit', () => {
    const inputs = (scale: number): InputQuantity[] => [
      made('a', 10 * scale, 0.3 * scale, false),
      made('b', 4 * scale, 0.2 * scale, true),
      input('c', 2 * scale, 0.1 * scale, { degreesOfFreedom: 7, distribution: { kind: 't' } }),
    ];
    const correlations = [{ first: 'a', second: 'c', coefficient: 0.5 }];
    const run = (scale: number): SimulatedOutput =>
      simulateInThread(model({ y: 'a + b - c' }), inputs(scale), correlations, { seed: 3, trials })
        .outputs[0]!;
    const [one, other] = [run(1), run(1 / 1024)];
    expect(other.estimate * 1024).toBe(one.estimate);
    expect(other.standardUncertainty! * 1024).toBe(one.standardUncertainty);
    expect(other.symmetric.low * 1024).toBe(one.symmetric.low);
    expect(other.shortest.high * 1024).toBe(one.shortest.high);
    expect(other.histogram.counts).toEqual(one.histogram.counts);
  });

  it('any other unit changes figures by rounding only', () => {
    const run = (scale: number): SimulatedOutput => {
      const inputs = [made('a', 10 * scale, 0.3 * scale, false), made('b', 4 * scale, 0.2 * scale, true)];
      return simulateInThread(model({ y: 'a * b / (a + b)' }), inputs, [], { seed: 3, trials }).outputs[0]!;
    };
    const [grams, milligrams] = [run(1), run(1000)];
    expect(milligrams.estimate / 1000).toAgreeWithin(grams.estimate, 1e-13);
    expect(milligrams.standardUncertainty! / 1000).toAgreeWithin(grams.standardUncertainty!, 1e-11);
    expect(milligrams.symmetric.low / 1000).toAgreeWithin(grams.symmetric.low, 1e-13);
    expect(milligrams.symmetric.high / 1000).toAgreeWithin(grams.symmetric.high, 1e-13);
  });
});

describe('numerical standard errors', () => {
  it.each([
    ['a symmetric output', 'a + b'],
    ['a skew output', 'exp(a / 8)'],
  ])('are the scatter over seeds of %s', (_, formula) => {
    const inputs = [input('a', 1, 2), made('b', 2, 1, true)].filter(
      ({ name }) => formula.includes(`${name} `) || formula.endsWith(name),
    );
    const runs = Array.from(
      { length: 100 },
      (_run, seed) => simulateInThread(model({ y: formula }), inputs, [], { seed, trials }).outputs[0]!,
    );
    const ratio = (figure: (o: SimulatedOutput) => number, error: (o: SimulatedOutput) => number): number => {
      const values = runs.map(figure);
      const mean = values.reduce((sum, v) => sum + v, 0) / values.length;
      const scatter = Math.sqrt(values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / (values.length - 1));
      const stated = Math.sqrt(runs.reduce((sum, o) => sum + error(o) ** 2, 0) / runs.length);
      return stated / scatter;
    };
    const errors = runs[0]!.numericalStandardErrors;
    const figures: Record<keyof typeof errors, (o: SimulatedOutput) => number> = {
      estimate: (o) => o.estimate,
      standardUncertainty: (o) => o.standardUncertainty!,
      symmetricLow: (o) => o.symmetric.low,
      symmetricHigh: (o) => o.symmetric.high,
      shortestLow: (o) => o.shortest.low,
      shortestHigh: (o) => o.shortest.high,
    };
    for (const name of Object.keys(figures) as (keyof typeof errors)[]) {
      const found = ratio(figures[name], (o) => o.numericalStandardErrors[name]!);
      // A standard deviation from 100 runs is known to 7 %; 3.5 of these.
      expect(found, name).toBeGreaterThan(0.75);
      expect(found, name).toBeLessThan(1.35);
    }
  });
});
