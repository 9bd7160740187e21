import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { precisionDesign } from '../../../src/validation/planning/precision-design.js';
import { whatADesignCanShow } from '../../../src/validation/precision/what-a-design-can-show.js';

describe('design for precision', () => {
  it('proposes the fewest digestions that have the wanted power', () => {
    const wish = { criterionRatio: 2, varianceRatio: 1, power: 0.9, trials: 4000, seed: 7 };
    const found = precisionDesign(wish);
    expect(found.criterionForPower).toBeLessThanOrEqual(2);
    // One day fewer of the same kind does not do.
    const fewer = whatADesignCanShow({
      ...wish,
      days: found.days - 1,
      digestionsPerDay: found.digestionsPerDay,
    });
    expect(fewer.criterionForPower).toBeGreaterThan(2);
    // The planning table gives 1.81 to 1.96 at 10 days × 2, so 20 digestions are enough.
    expect(found.digestions).toBeLessThanOrEqual(20);
    expect(found.days).toBeGreaterThanOrEqual(5);
  });

  it('refuses a criterion that cannot be shown', () => {
    expect(() =>
      precisionDesign({
        criterionRatio: 1.05,
        varianceRatio: 1,
        power: 0.9,
        mostDays: 10,
        trials: 500,
        seed: 7,
      }),
    ).toThrow(InputError);
  });
});
