import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { halfNormalScores } from '../../../src/statistics/ruggedness/half-normal-scores.js';
import { screeningDesign } from '../../../src/statistics/ruggedness/screening-design.js';
import { screeningEffects } from '../../../src/statistics/ruggedness/screening-effects.js';
import { type PublishedExample, readReference } from '../../support/reference-sets.js';

const signs = (count: number) =>
  Array.from({ length: 2 ** count }, (_, run) =>
    Array.from({ length: count }, (__, k) => ((run >> k) & 1 ? 1 : -1)),
  );

describe('effects of two-level designs', () => {
  // Berthouex and Brown 2002, chapter 27, case study: average and first effect read in the document; the other two effects
  // follow from the same runs.
  it('gives average and main effects of the published 2³ factorial', () => {
    const { inputs, published } = readReference<
      PublishedExample<{ runs_standard_order: number[] }, Record<string, string>>
    >('statistics/berthouex-two-level-factorial');
    const found = screeningEffects({ names: ['1', '2', '3'], levels: signs(3) }, inputs.runs_standard_order);
    expect(found.mean).toRoundTo(published.average!);
    expect(found.effects[0]!.effect).toRoundTo(published.effect_1!);
    expect(found.effects.slice(1).map((e) => Number(e.effect.toFixed(9)))).toEqual([6.4, -7.5]);
  });

  // ASTM E1169, half-normal plotting values for seven effects: remembered and recomputed.
  it('gives the half-normal scores of seven effects', () => {
    const scores = halfNormalScores([1, 2, 3, 4, 5, 6, -7]);
    ['0.09', '0.27', '0.46', '0.67', '0.92', '1.24', '1.80'].forEach((printed, k) => {
      expect(scores[k]).toRoundTo(printed);
    });
  });

  it('shares the score among ties and follows the order of the effects', () => {
    const scores = halfNormalScores([2, -2, 0.1, 5]);
    expect(scores[0]).toBe(scores[1]);
    expect(scores[3]).toBeGreaterThan(scores[0]!);
    expect(scores[2]).toBeLessThan(scores[0]!);
  });

  it('finds planted effects exactly where there is no error', () => {
    const effect = fc.integer({ min: -50, max: 50 });
    fc.assert(
      fc.property(
        fc.constantFrom(8, 12) as fc.Arbitrary<8 | 12>,
        fc.array(effect, { minLength: 5, maxLength: 5 }),
        (runs, planted) => {
          const design = screeningDesign(['a', 'b', 'c', 'd', 'e'], runs);
          const responses = design.levels.map((row) =>
            planted.reduce((sum, e, k) => sum + (row[k]! * e) / 2, 100),
          );
          const found = screeningEffects(design, responses);
          planted.forEach((e, k) => {
            expect(Math.abs(found.effects[k]!.effect - e)).toBeLessThan(1e-12);
          });
          expect(found.errorFrom).toBe('dummies');
          expect(found.standardError).toBeLessThan(1e-12);
          expect(found.mean).toAgreeWithin(100, 1e-14);
        },
      ),
    );
  });

  it('takes the error from dummies: t with as many degrees of freedom', () => {
    const design = screeningDesign(['a', 'b', 'c', 'd', 'e'], 8);
    const found = screeningEffects(design, [10.2, 9.9, 10.4, 9.7, 10.1, 10.6, 9.8, 10.3]);
    const dummies = found.effects.filter((e) => e.isDummy).map((e) => e.effect);
    expect(found.degreesOfFreedom).toBe(2);
    expect(found.standardError).toAgreeWithin(Math.sqrt((dummies[0]! ** 2 + dummies[1]! ** 2) / 2), 1e-14);
    expect(found.effects[0]!.t).toAgreeWithin(found.effects[0]!.effect / found.standardError, 1e-14);
  });

  it('takes the error from replicates first: 2s/√N for every effect', () => {
    const found = screeningEffects({ names: ['acid', 'time'], levels: signs(2) }, [
      [10, 10.2],
      [12, 12.2],
      [10.5, 10.7],
      [12.5, 12.7],
    ]);
    expect(found.errorFrom).toBe('replicates');
    expect(found.degreesOfFreedom).toBe(4);
    // Within-run variance 0.02; 8 results.
    expect(found.standardError).toAgreeWithin(2 * Math.sqrt(0.02 / 8), 1e-12);
  });

  it('sees replicates in runs of equal levels as in lists, and pools them where settings are repeated unequally', () => {
    const design = signs(2);
    const lists = [
      [10, 10.2],
      [12, 12.2],
      [10.5, 10.7],
      [12.5, 12.7],
    ];
    const inLists = screeningEffects({ names: ['acid', 'time'], levels: design }, lists);
    const inRuns = screeningEffects(
      { names: ['acid', 'time'], levels: [...design, ...design] },
      [0, 1].flatMap((k) => lists.map((list) => list[k]!)),
    );
    expect(inRuns.errorFrom).toBe('replicates');
    expect(inRuns.degreesOfFreedom).toBe(inLists.degreesOfFreedom);
    expect(inRuns.standardError).toAgreeWithin(inLists.standardError, 1e-12);
    for (const [k, { effect }] of inLists.effects.entries())
      expect(inRuns.effects[k]!.effect).toAgreeWithin(effect, 1e-12);
    // One factor, settings of three runs each: variances 1 and 4 with ν 2 each pool to 2.5; 6 results.
    const found = screeningEffects(
      { names: ['a'], levels: [[-1], [-1], [-1], [1], [1], [1]] },
      [9, 10, 11, 18, 20, 22],
    );
    expect(found.degreesOfFreedom).toBe(4);
    expect(found.standardError).toAgreeWithin(2 * Math.sqrt(2.5 / 6), 1e-12);
  });

  it('keeps the small effects where a single run is repeated by the design: they have more degrees of freedom', () => {
    // Five columns of the 12-run design hold settings twice or once; the columns that are left out would be dummies.
    const { levels } = screeningDesign(['a', 'b', 'c', 'd', 'e'], 12);
    const five = levels.map((row) => row.slice(0, 5));
    const repeated = five.length - new Set(five.map((row) => row.join())).size;
    expect(repeated).toBeLessThan(5 / 3);
    const found = screeningEffects({ names: ['a', 'b', 'c', 'd', 'e'], levels: five }, [
      ...[10.1, 9.8, 10.4, 9.9, 10.3, 10, 9.7, 10.2, 10.6, 9.5, 10.1, 9.9],
    ]);
    expect(found.errorFrom).toBe('small effects');
  });

  it('takes the error from the small effects where there is nothing else, and leaves the large one out', () => {
    const design = screeningDesign(['a', 'b', 'c', 'd', 'e', 'f', 'g'], 8);
    const planted = [20, 0.4, -0.3, 0.2, 0.5, -0.6, 0.1];
    const found = screeningEffects(
      design,
      design.levels.map((row) => planted.reduce((sum, e, k) => sum + (row[k]! * e) / 2, 50)),
    );
    // Lenth 1989: 1.5 × 0.4 first (median of all), then without 20: 1.5 × median(0.1, 0.2, 0.3, 0.4, 0.5, 0.6).
    expect(found.standardError).toAgreeWithin(1.5 * 0.35, 1e-12);
    expect(found.effects.filter((e) => e.pValue < 0.05).map((e) => e.name)).toEqual(['a']);
    // Youden: √(2/7·ΣD²) of 7 effects in 8 runs.
    const youden = Math.sqrt((2 / 7) * planted.reduce((sum, e) => sum + e * e, 0));
    expect(found.overallStandardDeviation).toAgreeWithin(youden, 1e-12);
  });

  it('answers when error and effects are 0', () => {
    const found = screeningEffects({ names: ['a', 'b'], levels: signs(2) }, [
      [1, 1],
      [2, 2],
      [1, 1],
      [2, 2],
    ]);
    expect(found.effects.map((e) => [e.t, e.pValue])).toEqual([
      [Number.POSITIVE_INFINITY, 0],
      [0, 1],
    ]);
    expect(found.notes.join(' ')).toContain('came out as 0');
  });

  it('refuses designs that are not orthogonal, unequal replicates and values that are not finite', () => {
    const levels = signs(2);
    expect(() => screeningEffects({ names: ['a'], levels: [[1], [1], [1], [-1]] }, [1, 2, 3, 4])).toThrow(
      'unequal number',
    );
    expect(() =>
      screeningEffects({ names: ['a', 'b'], levels: levels.map(([a]) => [a!, a!]) }, [1, 2, 3, 4]),
    ).toThrow('not orthogonal');
    expect(() => screeningEffects({ names: ['a', 'b'], levels }, [1, [2, 3], 3, 4])).toThrow(
      'run 2: found 2 result(s)',
    );
    expect(() => screeningEffects({ names: ['a', 'b'], levels }, [1, 2, Number.NaN, 4])).toThrow(InputError);
    expect(() =>
      screeningEffects({ names: ['a', 'b'], levels: [[0, 1], ...levels.slice(1)] }, [1, 2, 3, 4]),
    ).toThrow('other than +1');
    expect(() => screeningEffects({ names: ['a', 'b'], levels }, [1, 2, 3])).toThrow('expected equally many');
  });
});
