import { describe, expect, it } from 'vitest';
import { randomStream } from '../../../src/uncertainty/random-stream.js';
import { crossedLimits } from '../../../src/validation/precision/crossed-limits.js';
import { factorComponents } from '../../../src/validation/precision/factor-components.js';
import { precision } from '../../../src/validation/precision/precision.js';
import type { ResultRow } from '../../../src/validation/result-row.js';
import { believableCount, criterion } from '../support.js';

/** One digestion by each operator on each of six days, with standard deviation 1. */
function rowsOf(
  seed: number,
  trial: number,
  { operators, ofOperators, ofDays }: { operators: number; ofOperators: number; ofDays: number },
): ResultRow[] {
  const stream = randomStream(seed, 'crossed', trial);
  const bias = Array.from({ length: operators }, () => ofOperators * stream.normal());
  return Array.from({ length: 6 }).flatMap((_, day) => {
    const shift = ofDays * stream.normal();
    return bias.map((own, j) => ({
      key: `D-${day}-${j}`,
      day: `${day}`,
      operator: `${j}`,
      value: 100 + own + shift + stream.normal(),
    }));
  });
}

/** Not used where operators and days are connected. */
const none = { day: 0, operator: 0, digestion: 0, degreesOfFreedomOfDigestions: 1 };

function crossedComponents(rows: readonly ResultRow[]) {
  const [day, operator, digestion] = factorComponents(rows, ['day', 'operator']).components;
  return {
    day: day!.variance,
    operator: operator!.variance,
    digestion: digestion!.variance,
    degreesOfFreedomOfDigestions: digestion!.degreesOfFreedom!,
  };
}

describe('limits of the intermediate precision where operators cross with days', () => {
  it('err in about 5 % of studies in which a third operator joins two who take turns, on a day of each', () => {
    const trials = 400;
    let wrong = 0;
    for (let trial = 0; trial < trials; trial++) {
      const stream = randomStream(8, 'third operator', trial);
      const bias = [2, 2, 2].map((s) => s * stream.normal());
      const rows = Array.from({ length: 8 }).flatMap((_, day) => {
        const shift = stream.normal();
        const workers = [day % 2, day % 2, ...(day === 3 || day === 4 ? [2] : [])];
        return workers.map((operator, j) => ({
          key: `D-${day}-${j}`,
          day: `${day}`,
          operator: `${operator}`,
          value: 100 + bias[operator]! + shift + stream.normal(),
        }));
      });
      // Variances 1, 4 and 1.
      const { upper } = crossedLimits(rows, 1, crossedComponents(rows))(0.05);
      if (upper < 6) wrong++;
    }
    expect(wrong).toBeLessThanOrEqual(believableCount(0.05, trials));
  });

  it('join the χ² limits of the mean squares', () => {
    // Two days × two operators × two digestions. Day means 2 and 6, operator means 3 and 5, grand mean 4.
    // MS day = 4·(4 + 4) = 32 and MS operator = 4·(1 + 1) = 8 with ν = 1. Cell means 1, 3, 5, 7 are additive; within cells ±1:
    // SS = 8 with 1 + 4 degrees of freedom, MS = 1.6. Sum = 32/4 + 8/4 + (1 − 1/4 − 1/4)·1.6 = 10.8.
    const rows = [
      ['1', 'A', 1],
      ['1', 'B', 3],
      ['2', 'A', 5],
      ['2', 'B', 7],
    ].flatMap(([day, operator, mean]) =>
      [-1, 1].map((step) => ({
        key: `${day}${operator}${step}`,
        day: String(day),
        operator: String(operator),
        value: Number(mean) + step,
      })),
    );
    // χ²(0.05; 1) = 0.00393214, χ²(0.05; 5) = 1.14548, χ²(0.95; 1) = 3.84146, χ²(0.95; 5) = 11.0705 (tables).
    const up = (nu: number, chi: number, part: number) => ((nu / chi - 1) * part) ** 2;
    const { lower, upper } = crossedLimits(rows, 1, none)(0.05);
    expect(upper).toAgreeWithin(
      10.8 + Math.sqrt(up(1, 0.00393214, 8) + up(1, 0.00393214, 2) + up(5, 1.145476, 0.8)),
      1e-6,
    );
    expect(lower).toAgreeWithin(
      10.8 - Math.sqrt(up(1, 3.841459, 8) + up(1, 3.841459, 2) + up(5, 11.0705, 0.8)),
      1e-6,
    );
  });

  it('rest on the estimated components where operators and days fall into parts that share neither', () => {
    // A and B on days 1 and 2, C alone on day 3: 3 days and 3 operators, 2 degrees of freedom each, χ²(0.05; 2) = 0.102587.
    const rows = ['1A', '1B', '2A', '2B', '3C', '3C'].map((place, i) => ({
      key: `${i}`,
      day: place[0]!,
      operator: place[1]!,
      value: i,
    }));
    const components = { day: 4, operator: 1, digestion: 2, degreesOfFreedomOfDigestions: 5 };
    // Five cells: of days 4 + 1·3/5 + 2·3/6 = 5.6, of operators 1 + 4·3/5 + 2·3/6 = 4.4, of digestions 2/2.
    const up = (nu: number, chi: number, part: number) => ((nu / chi - 1) * part) ** 2;
    expect(crossedLimits(rows, 2, components)(0.05).upper).toAgreeWithin(
      6 + Math.sqrt(up(2, 0.1025866, 5.6) + up(2, 0.1025866, 4.4) + up(5, 1.145476, 1)),
      1e-6,
    );
  });

  it.each([
    [2, 4, 0],
    [2, 2, 0.5],
    [3, 4, 0],
    [4, 2, 0.5],
    [4, 1, 1],
  ])(
    'lie below the truth in at most one study of twenty: %i operators, s %d, of days %d',
    (operators, ofOperators, ofDays) => {
      const trials = 2000;
      const truth = 1 + ofOperators ** 2 + ofDays ** 2;
      let below = 0;
      for (let trial = 0; trial < trials; trial++) {
        const rows = rowsOf(41, trial, { operators, ofOperators, ofDays });
        if (crossedLimits(rows, 1, none)(0.05).upper <= truth) below++;
      }
      expect(below).toBeLessThanOrEqual(believableCount(0.05, trials));
    },
  );

  it('declare a criterion at the truth met in at most 5 % of studies with two operators who differ much', () => {
    const trials = 300;
    let met = 0;
    for (let trial = 0; trial < trials; trial++) {
      const { intermediatePrecision } = precision(
        rowsOf(42, trial, { operators: 2, ofOperators: 4, ofDays: 0 }),
        {
          analyte: 'Al',
          level: 'low',
          unit: 'mg/kg',
          repeatabilityCriterion: null,
          intermediateCriterion: criterion('at most', Math.sqrt(17), 'mg/kg'),
        },
      );
      if (intermediatePrecision.verdict === 'met') met++;
    }
    expect(met).toBeLessThanOrEqual(believableCount(0.05, trials));
  });
});
