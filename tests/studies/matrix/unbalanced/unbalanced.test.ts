import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import type { StudyRecords } from '../../../../src/records/study-records.js';
import { zirconPigmentStudy } from '../../../../src/scenario/zircon-pigment-study.js';
import { chiSquaredQuantile } from '../../../../src/statistics/distributions/chi-squared.js';
import { evaluateStudy } from '../../../../src/studies/evaluate-study.js';
import { precisionStudy } from '../../../../src/studies/matrix/precision-study.js';
import { precision } from '../../../../src/validation/precision/precision.js';
import type { ResultRow } from '../../../../src/validation/result-row.js';
import { unbalancedRecords } from './unbalanced-records.js';

// results.csv holds the results of iron at the high level in each case, to ten digits, as they were when lme4.R was run;
// lme4.json what R's lme4 makes of them. A change of the chain moves results by less than what is allowed below.
interface Lme4 {
  readonly day: number;
  readonly operator: number;
  readonly digestion: number;
  readonly profile90?: readonly (readonly [number, number])[];
}
type Name = keyof ReturnType<typeof unbalancedRecords>;
const names: readonly Name[] = ['lost digestions', 'a missing day', 'an extra operator'];
const read = (file: string) => readFileSync(join(__dirname, file), 'utf8');
const published = JSON.parse(read('lme4.json')) as {
  cases: Record<Name, Lme4 & { 'mean of day means': number }>;
};
const table = read('results.csv')
  .trim()
  .split('\n')
  .slice(1)
  .map((line) => line.split(','));

function rowsOf(name: Name): ResultRow[] {
  return table
    .filter(([own]) => own === name)
    .map(([, key, day, operator, value]) => ({
      key: key!,
      day: day!,
      operator: operator!,
      value: Number(value),
    }));
}

const options = {
  ...{ analyte: 'Fe', level: 'high', unit: 'mg/kg', digestionsPerResult: 2 },
  ...{ repeatabilityCriterion: null, intermediateCriterion: null },
};

describe.each(names)('precision with %s, against lme4', (name) => {
  const expected = published.cases[name];

  it('has the components and standard deviations of restricted maximum likelihood', () => {
    const found = precision(rowsOf(name), options);
    const { dayVariance, digestionVariance, method } = found.components;
    expect(method).toContain('restricted maximum likelihood');
    expect(digestionVariance).toAgreeWithin(expected.digestion, 1e-5);
    // A component that lme4 stops at rather than on the edge is 0 to a part in 10⁸ of the whole.
    const near = (value: number) => value / (expected.day + expected.operator + expected.digestion);
    expect(Math.abs(near(dayVariance) - near(expected.day))).toBeLessThan(1e-5);
    expect(Math.abs(near(found.crossed?.operatorVariance ?? 0) - near(expected.operator))).toBeLessThan(1e-5);
    expect(found.withinDay.value).toAgreeWithin(Math.sqrt(expected.digestion / 2), 1e-5);
    const total = expected.day + expected.operator + expected.digestion / 2;
    expect(found.overDays.value).toAgreeWithin(Math.sqrt(total), 1e-5);
  });

  it('comes from records with rows lost to findings with the same figures', () => {
    const own = precisionStudy(evaluateStudy(unbalancedRecords(records)[name])).find(
      (p) => p.analyte === 'Fe' && p.level === 'high',
    )!;
    expect(own.rows.map((r) => [r.key, r.day, r.operator])).toEqual(
      rowsOf(name).map((r) => [r.key, r.day, r.operator]),
    );
    const { repeatability, intermediatePrecision } = own.precision;
    const mean = expected['mean of day means'];
    expect(repeatability.estimate!).toAgreeWithin((100 * Math.sqrt(expected.digestion / 2)) / mean, 1e-3);
    const total = expected.day + expected.operator + expected.digestion / 2;
    expect(intermediatePrecision.estimate!).toAgreeWithin((100 * Math.sqrt(total)) / mean, 1e-3);
    expect(intermediatePrecision.rows[0]!.keys).toHaveLength(own.rows.length);
    for (const finding of [repeatability, intermediatePrecision]) {
      expect(finding.method).toContain('restricted maximum likelihood');
      expect(finding.limits!.upperOneSided).toBeGreaterThan(finding.estimate!);
      expect(finding.limits!.lowerOneSided).toBeLessThan(finding.estimate!);
      expect(finding.verdict).toBe('met');
    }
  });
});

let records: StudyRecords;
beforeAll(() => {
  records = zirconPigmentStudy({ seed: 20260302 }).records;
});

describe('limits where operators cross with days', () => {
  it('are the farther of the joined profile limits of the components and of their χ² limits', () => {
    const { profile90, day, operator, digestion } = published.cases['an extra operator'];
    const { limits } = precision(rowsOf('an extra operator'), options).overDays;
    const parts = [day, operator, digestion / 2];
    const upper = profile90!.map(([, high], k) => (k === 2 ? high / 2 : high) - parts[k]!);
    const lower = profile90!.map(([low], k) => parts[k]! - (k === 2 ? low / 2 : low));
    const variance = parts[0]! + parts[1]! + parts[2]!;
    // Parts of days and operators that share neither: χ² limits with levels − 1, of each component with what its levels' means hold of
    // the others.
    const rows = rowsOf('an extra operator');
    const { degreesOfFreedom: left } = precision(rows, options).withinDay;
    const [days, operators, cells] = [
      rows.map((r) => r.day),
      rows.map((r) => r.operator),
      rows.map((r) => `${r.day}|${r.operator}`),
    ].map((names) => new Set(names).size) as [number, number, number];
    const spreads: [number, number][] = [
      [day + (operator * days) / cells + (digestion * days) / rows.length, days - 1],
      [operator + (day * operators) / cells + (digestion * operators) / rows.length, operators - 1],
      [digestion / 2, left],
    ];
    const reach = (p: number) =>
      Math.hypot(...spreads.map(([spread, nu]) => spread * (nu / chiSquaredQuantile(p, nu) - 1)));
    const above = Math.max(Math.hypot(...upper), reach(0.05));
    const below = Math.max(Math.hypot(...lower), reach(0.95));
    expect(limits.upperOneSided).toAgreeWithin(Math.sqrt(variance + above), 1e-4);
    expect(limits.lowerOneSided).toAgreeWithin(Math.sqrt(variance - below), 1e-4);
  });

  it('keeps an operator who reads high out of the repeatability', () => {
    const shifted = rowsOf('an extra operator').map((row) =>
      row.operator === 'C. Newfield' ? { ...row, value: row.value * 1.03 } : row,
    );
    const found = precision(shifted, options);
    const before = precision(rowsOf('an extra operator'), options);
    expect(found.withinDay.value).toAgreeWithin(before.withinDay.value, 0.1);
    expect(found.overDays.value).toBeGreaterThan(1.5 * before.overDays.value);
    expect(found.crossed!.operatorVariance).toBeGreaterThan(found.crossed!.digestionVariance);
  });

  it('takes operators who take turns by day as part of the days', () => {
    expect(precision(rowsOf('lost digestions'), options).crossed).toBeNull();
  });
});
