import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import type { PlanningRecord } from '../../../src/records/planning.js';
import type { StudyPlan } from '../../../src/records/study.js';
import { studyPlan } from '../../../src/scenario/plan/study-plan.js';
import { planValidation } from '../../../src/studies/planning/plan-validation.js';
import { daysForMean } from '../../../src/validation/planning/days-for-mean.js';
import { powerForIntermediatePrecision } from '../../../src/validation/planning/power-for-intermediate-precision.js';

const plan = studyPlan({ stability: [], nativeCheck: [] });
const planned = plan.planning!;

function withPlanning(change: Partial<PlanningRecord>, rest: Partial<StudyPlan> = {}): StudyPlan {
  return { ...plan, ...rest, planning: { ...planned, ...change } };
}

const onlyZr = (characteristic: string): Partial<StudyPlan> => ({
  analytes: plan.analytes.filter((a) => a.analyte === 'Zr'),
  criteria: plan.criteria.filter((c) => c.analyte === 'Zr' && c.characteristic === characteristic),
});

describe('the plan of a validation', () => {
  it('shows each criterion with the wanted probability, and one day fewer does not', () => {
    const found = planValidation(plan);
    expect(found.outOfReach).toEqual([]);
    expect(Math.min(...found.criteria.map((c) => c.power))).toBeGreaterThanOrEqual(planned.power);
    const fewer = planValidation(
      withPlanning({ mostDays: found.numbers.days - 1, mostDigestionsPerDayAndLevel: 2 }),
    );
    expect(fewer.outOfReach.length).toBeGreaterThan(0);
  });

  it('plans one criterion by the figures that its expectation gives', () => {
    const found = planValidation(withPlanning({}, onlyZr('intermediate precision')));
    const { dayPercent, digestionPercent } = planned.expectations.find((e) => e.analyte === 'Zr')!;
    // s_I of a result: one day, the mean of two digestions.
    const expected = Math.sqrt(dayPercent ** 2 + digestionPercent ** 2 / 2);
    const [criterion] = found.criteria;
    expect(criterion!.expected).toAgreeWithin(expected, 1e-12);
    const design = {
      ...found.numbers,
      varianceRatio: (dayPercent / digestionPercent) ** 2,
      digestionsPerResult: 2,
    };
    expect(criterion!.power).toAgreeWithin(powerForIntermediatePrecision(design, 2.2 / expected), 1e-12);
    const trueness = planValidation(withPlanning({}, onlyZr('trueness')));
    const days = daysForMean({
      allowed: 2.5,
      expected: 0.5,
      dayStandardDeviation: expected,
      fixedStandardUncertainty: 0.3,
      power: 0.99,
    });
    expect(trueness.numbers.days).toBe(days);
  });

  it('adds up what it costs: digestions, furnace hours, calibrations, and whether a day can bear it', () => {
    const { numbers, cost, work } = planValidation(plan);
    const digestions =
      3 * numbers.days * numbers.digestionsPerDay +
      2 * numbers.days * 2 +
      2 * numbers.spikes +
      numbers.blanks +
      20;
    expect(cost.digestions).toBe(digestions);
    expect(cost.furnaceHours).toAgreeWithin((Math.ceil(digestions / 4) * 16) / 60, 1e-12);
    expect(work.minutesPerFusion).toBe(16);
    expect(cost.fits).toBe(true);
    expect(planValidation(withPlanning({ digestionsADay: 10 })).cost.fits).toBe(false);
  });

  it('names what it cannot reach and what no number decides', () => {
    const hopeless = planned.expectations.map((e) => (e.analyte === 'Ca' ? { ...e, dayPercent: 4.2 } : e));
    const found = planValidation(withPlanning({ expectations: hopeless }));
    expect(new Set(found.outOfReach.map((c) => `${c.characteristic} ${c.analyte}`))).toEqual(
      new Set(['intermediate precision Ca']),
    );
    expect(found.numbers).toEqual({ ...planValidation(plan).numbers, days: found.numbers.days });
    expect(found.unplanned.map((u) => u.characteristic)).toContain('crucible memory');
    const silent = planned.expectations.filter((e) => e.analyte !== 'Fe');
    expect(planValidation(withPlanning({ expectations: silent })).unplanned).toContainEqual({
      characteristic: 'all',
      analyte: 'Fe',
      level: 'low',
      reason: 'the plan expects nothing of it',
    });
  });

  it('refuses a plan without expectations', () => {
    const { planning: _, ...without } = plan;
    expect(() => planValidation(without)).toThrow(InputError);
  });
});
