import { describe, expect, it } from 'vitest';
import { relativeToCriterion } from '../../../src/report/figures/relative-to-criterion.js';
import type { Criterion } from '../../../src/validation/finding.js';

const limits = (lowerOneSided: number, upperOneSided: number) => ({
  lowerOneSided,
  upperOneSided,
  low: lowerOneSided,
  high: upperOneSided,
});
const criterion = (kind: Criterion['kind'], limit: number, lower?: number): Criterion => ({
  kind,
  limit,
  ...(lower === undefined ? {} : { lower }),
  unit: '%',
  reason: '',
  owner: '',
});

describe('an estimate on the scale of its criterion', () => {
  it('is divided by the most that is allowed', () => {
    expect(relativeToCriterion(2, limits(1, 3), criterion('at most', 4))).toEqual({
      estimate: 0.5,
      low: 0.25,
      high: 0.75,
    });
  });

  it('divides the least that is allowed, so that at most 1 is allowed there too', () => {
    expect(relativeToCriterion(80, limits(50, 100), criterion('at least', 40))).toEqual({
      estimate: 0.5,
      low: 0.4,
      high: 0.8,
    });
    expect(relativeToCriterion(80, limits(-1, 100), criterion('at least', 40))?.high).toBe(
      Number.POSITIVE_INFINITY,
    );
  });

  it('is the distance from the middle of an allowed band in half-widths', () => {
    expect(relativeToCriterion(-1, limits(-2, 0), criterion('within', 4))).toEqual({
      estimate: -0.25,
      low: -0.5,
      high: 0,
    });
    expect(relativeToCriterion(104, limits(100, 105), criterion('within', 105, 95))).toEqual({
      estimate: 0.8,
      low: 0,
      high: 1,
    });
  });

  it('does not exist where the criterion leaves no room', () => {
    expect(relativeToCriterion(1, limits(0, 2), criterion('at most', 0))).toBeNull();
    expect(relativeToCriterion(-1, limits(-2, 2), criterion('at least', 3))).toBeNull();
  });

  it('refuses limits that are not in order', () => {
    expect(() => relativeToCriterion(1, limits(2, 0), criterion('at most', 1))).toThrow('in order');
  });
});
