import { randomStream } from '../../src/uncertainty/random-stream.js';
import type { Criterion } from '../../src/validation/finding.js';
import type { ResultRow } from '../../src/validation/result-row.js';

export function criterion(kind: Criterion['kind'], limit: number, unit: string, lower?: number): Criterion {
  const base = { kind, limit, unit, reason: 'test', owner: 'test' } as const;
  return lower === undefined ? base : { ...base, lower };
}

/** Rows of days × digestions from arrays of values. */
export function rowsOfDays(days: readonly (readonly number[])[]): ResultRow[] {
  return days.flatMap((values, d) =>
    values.map((value, j) => ({
      key: `D-${d + 1}-${j + 1}`,
      day: `2026-01-${String(d + 1).padStart(2, '0')}`,
      value,
    })),
  );
}

/** Values with exactly this mean and standard deviation, in a pattern that is the same for every size. */
export function valuesWith(meanValue: number, standardDeviation: number, n: number): number[] {
  const raw = Array.from({ length: n }, (_, i) => i - (n - 1) / 2);
  const s = Math.sqrt(raw.reduce((sum, r) => sum + r * r, 0) / (n - 1));
  return raw.map((r) => meanValue + (standardDeviation * r) / s);
}

/** Normal data of a random-effects model: days × digestions about a mean. */
export function simulatedDays(
  seed: number,
  trial: number,
  design: {
    days: number;
    perDay: number;
    mean: number;
    dayStandardDeviation: number;
    standardDeviation: number;
  },
): number[][] {
  const stream = randomStream(seed, 'test', trial);
  return Array.from({ length: design.days }, () => {
    const day = design.mean + design.dayStandardDeviation * stream.normal();
    return Array.from({ length: design.perDay }, () => day + design.standardDeviation * stream.normal());
  });
}

/** Largest count of events of probability `p` in `n` trials that is still believed (99.9 % one-sided, normal approximation). */
export function believableCount(p: number, n: number): number {
  return n * p + 3.09 * Math.sqrt(n * p * (1 - p)) + 0.5;
}

/** Davies and Goldsmith 1972, section 6.4: yield of dyestuff in g, 6 batches × 5 (data as distributed with R's lme4). */
export const dyestuff = [
  [1545, 1440, 1440, 1520, 1580],
  [1540, 1555, 1490, 1560, 1495],
  [1595, 1550, 1605, 1510, 1560],
  [1445, 1440, 1595, 1465, 1545],
  [1595, 1630, 1515, 1635, 1625],
  [1520, 1455, 1450, 1480, 1445],
];
