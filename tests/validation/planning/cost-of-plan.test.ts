import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { costOfPlan } from '../../../src/validation/planning/cost-of-plan.js';

const work = {
  days: 10,
  levels: 3,
  digestionsPerDay: 2,
  referenceDigestions: 20,
  spikes: 12,
  blanks: 12,
  otherDigestions: 6,
  readingsPerDigestion: 3,
  minutesPerFusion: 16,
  cruciblesAtOnce: 2,
  digestionsADay: 40,
};

describe('cost of a plan', () => {
  it('adds digestions, furnace hours, calibrations and readings', () => {
    expect(costOfPlan(work)).toEqual({
      digestions: 110,
      furnaceHours: (55 * 16) / 60,
      calibrations: 10,
      readings: 330,
      digestionsOfADay: 11,
      fits: true,
    });
  });

  it('says when a day cannot bear it, and refuses impossible numbers', () => {
    expect(costOfPlan({ ...work, days: 2, levels: 20 }).fits).toBe(false);
    expect(() => costOfPlan({ ...work, days: 0 })).toThrow(InputError);
    expect(() => costOfPlan({ ...work, spikes: 1.5 })).toThrow(InputError);
  });
});
