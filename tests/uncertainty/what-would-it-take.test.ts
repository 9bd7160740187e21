import { describe, expect, it } from 'vitest';
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
