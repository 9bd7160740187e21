import { describe, expect, it } from 'vitest';
import { coverageFactor } from '../../src/uncertainty/coverage-factor.js';
import { makeBudget } from '../../src/uncertainty/make-budget.js';
import { propagate } from '../../src/uncertainty/propagate.js';
import { whatWouldItTake } from '../../src/uncertainty/what-would-it-take.js';
import { input } from '../support/input.js';
import { model } from '../support/model.js';

const inputs = [input('a', 10, 4), input('b', 5, 3), input('c', 2, 0.1)];
const propagation = propagate(model({ y: 'a + b + c' }), inputs);
const k = 1.9599639845400545;

describe('whatWouldItTake', () => {
  it('finds the factor on each input alone', () => {
    const found = whatWouldItTake(propagation, 'y', k * 4);
    expect(found.meetsTarget).toBe(false);
    expect(found.single.map(({ input: name }) => name)).toEqual(['a', 'b', 'c']);
    const factor = Math.sqrt((4 ** 2 - 3 ** 2 - 0.1 ** 2) / 4 ** 2);
    expect(found.single[0]!.factorNeeded).toAgreeWithin(factor, 1e-12);
    expect(found.single[0]!.repeatsNeeded).toBe(Math.ceil(1 / factor ** 2));
    expect(found.single[0]!.expandedUncertaintyWithout).toAgreeWithin(k * Math.hypot(3, 0.1), 1e-12);
    expect(found.single[1]!.factorNeeded).toBeNull();
    expect(found.single[2]!.repeatsNeeded).toBeNull();
  });

  it('finds a factor between 0 and 1 where a correlated input offsets another', () => {
    // u² of a − b with u(a) = 0.1, f·u(b) = 0.2f, r = 0.99: 0.01 + 0.04f² − 0.0396f; without b it is 0.1, at f = ½ it is √0.0002.
    const offset = propagate(
      model({ y: 'a - b' }),
      [input('a', 1, 0.1), input('b', 1, 0.2)],
      [{ first: 'a', second: 'b', coefficient: 0.99 }],
    );
    const ofB = (target: number) =>
      whatWouldItTake(offset, 'y', target).single.find(({ input: name }) => name === 'b')!;
    const largest = (u: number) => (0.0396 + Math.sqrt(0.0396 ** 2 - 0.16 * (0.01 - u ** 2))) / 0.08;
    expect(ofB(0.1).expandedUncertaintyWithout).toAgreeWithin(k * 0.1, 1e-12);
    expect(ofB(0.1).factorNeeded).toAgreeWithin(largest(0.1 / k), 1e-9);
    expect(ofB(0.1).repeatsNeeded).toBe(2);
    // The least that b can do is at f = 0.495, U = 0.02765; no 1/√n comes as close: four repeats give 0.02772.
    expect(ofB(0.0277).factorNeeded).toAgreeWithin(largest(0.0277 / k), 1e-6);
    expect(ofB(0.0277).repeatsNeeded).toBeNull();
    expect(ofB(0.0276).factorNeeded).toBeNull();
  });

  it('finds one where less of a well-known input leaves too few degrees of freedom', () => {
    // At f = 0 b alone is left, with one degree of freedom and k = 12.7: U = 38; at f = 1 it is 1.976·√109 = 20.6.
    const few = propagate(model({ y: 'a + b' }), [
      input('a', 1, 10),
      input('b', 1, 3, { degreesOfFreedom: 1 }),
    ]);
    const found = whatWouldItTake(few, 'y', 18).single.find(({ input: name }) => name === 'a')!;
    expect(found.expandedUncertaintyWithout).toBeGreaterThan(38);
    const u2 = (10 * found.factorNeeded!) ** 2 + 9;
    const nu = u2 ** 2 / 81;
    expect(coverageFactor(nu) * Math.sqrt(u2)).toAgreeWithin(18, 1e-9);
  });

  it('does not ask for a repeat more by rounding', () => {
    const found = whatWouldItTake(propagate(model({ y: 'a' }), [input('a', 1, 2)]), 'y', k);
    expect(found.single[0]!.repeatsNeeded).toBe(4);
  });

  it('asks for nothing where the target is met', () => {
    const found = whatWouldItTake(propagation, 'y', 100);
    expect(found.meetsTarget).toBe(true);
    expect(found.single.every(({ factorNeeded }) => factorNeeded === 1)).toBe(true);
  });

  it('finds what actions do alone and together', () => {
    const actions = [
      { name: 'four digestions for one', changes: [{ input: 'a', factor: 0.5 }] },
      { name: 'another standard', changes: [{ input: 'b', factor: 1 / 3 }] },
    ];
    const found = whatWouldItTake(propagation, 'y', k * 2.3, actions);
    expect(found.actions.map(({ name, meetsTarget }) => [name, meetsTarget])).toEqual([
      ['four digestions for one', false],
      ['another standard', false],
      ['all together', true],
    ]);
    expect(found.actions[2]!.standardUncertainty).toAgreeWithin(Math.hypot(2, 1, 0.1), 1e-14);
  });

  it('finds degrees of freedom and coverage factor anew', () => {
    const few = propagate(model({ y: 'a + b' }), [
      input('a', 1, 1, { degreesOfFreedom: 3 }),
      input('b', 1, 1),
    ]);
    const action = { name: 'more', changes: [{ input: 'a', factor: 0.5, degreesOfFreedom: 15 }] };
    const expected = propagate(model({ y: 'a + b' }), [
      input('a', 1, 0.5, { degreesOfFreedom: 15 }),
      input('b', 1, 1),
    ]);
    const { actions, expandedUncertainty } = whatWouldItTake(few, 'y', 1, [action]);
    expect(actions).toHaveLength(1);
    expect(actions[0]!.expandedUncertainty).toAgreeWithin(
      makeBudget(expected, 'y').expandedUncertainty,
      1e-14,
    );
    expect(expandedUncertainty).toAgreeWithin(makeBudget(few, 'y').expandedUncertainty, 1e-14);
  });

  it('refuses what it cannot use', () => {
    expect(() => whatWouldItTake(propagation, 'z', 1)).toThrow('output "z"');
    expect(() => whatWouldItTake(propagation, 'y', 0)).toThrow('target expanded uncertainty: found 0');
    const act = (change: { input: string; factor: number }) =>
      whatWouldItTake(propagation, 'y', 1, [{ name: 'x', changes: [change] }]);
    expect(() => act({ input: 'x', factor: 1 })).toThrow('no input quantity has the name "x"');
    expect(() => act({ input: 'a', factor: -1 })).toThrow('factor on "a": found -1');
  });
});
