import { describe, expect, it } from 'vitest';
import { resultModel } from '../../src/chain/result-model.js';
import type { AnalyteScope } from '../../src/records/study.js';
import type { StudyRecords } from '../../src/records/study-records.js';
import { zirconPigmentStudy } from '../../src/scenario/zircon-pigment-study.js';
import { evaluateStudy } from '../../src/studies/evaluate-study.js';
import { secondLineStudy } from '../../src/studies/matrix/selectivity-study.js';
import { validateMatrix } from '../../src/studies/matrix/validate-matrix.js';
import { streamContext } from '../../src/studies/result-stream/stream-context.js';

const { records } = zirconPigmentStudy({ seed: 9 });

/** The study with another statement about the lines of titanium. */
function withTitanium(change: (scope: AnalyteScope) => AnalyteScope): StudyRecords {
  const analytes = records.plan.analytes.map((s) => (s.analyte === 'Ti' ? change(s) : s));
  return { ...records, plan: { ...records.plan, analytes } };
}

const combined = withTitanium((scope) => ({ ...scope, secondLineShare: 0.4 }));
const swapped = withTitanium(({ lineNm, secondLineNm, ...scope }) => ({
  ...scope,
  lineNm: secondLineNm!,
  secondLineNm: lineNm,
}));
const titanium = (study: StudyRecords) => evaluateStudy(study).results.filter((r) => r.analyte === 'Ti');

describe('an analyte whose results are made of two lines', () => {
  it('has the results of both lines in their shares, blanks of both lines subtracted', () => {
    const [first, second, both] = [records, swapped, combined].map(titanium);
    expect(both!.length).toBe(first!.length);
    for (const [i, { value, amountMg }] of both!.entries()) {
      expect(amountMg).toAgreeWithin(0.6 * first![i]!.amountMg + 0.4 * second![i]!.amountMg, 1e-12);
      if (value === null) continue;
      expect(value).toAgreeWithin(0.6 * first![i]!.value! + 0.4 * second![i]!.value!, 1e-11);
    }
  });

  it('leaves every other analyte as it is', () => {
    const values = (study: StudyRecords) =>
      evaluateStudy(study)
        .results.filter((r) => r.analyte !== 'Ti')
        .map((r) => [r.digestion, r.analyte, r.value]);
    expect(values(combined)).toEqual(values(records));
  });

  it('still has its lines compared, each alone', () => {
    const of = (study: StudyRecords) =>
      secondLineStudy(evaluateStudy(study)).find(({ finding }) => finding.analyte === 'Ti')!.finding;
    expect(of(combined).estimate!).toAgreeWithin(of(records).estimate!, 0.02);
    expect(of(combined).verdict).toBe('met');
  });

  it('has no result where the second line was not read', () => {
    const row = records.digestions.find((d) => d.sample === 'ZP-1')!;
    const { secondLineNm } = records.plan.analytes.find((s) => s.analyte === 'Ti')!;
    const readings = records.readings.filter(
      (r) => r.solution !== row.digestion || r.lineNm !== secondLineNm,
    );
    const found = titanium({ ...combined, readings });
    expect(found.some((r) => r.digestion === row.digestion && r.value !== null)).toBe(false);
    expect(found.length).toBe(titanium(combined).length - 1);
  });

  it('has budgets with both lines, and their shared stock once', () => {
    const ti = titanium(combined).find((r) => r.sample === 'ZP-2')!;
    const names = resultModel(ti.observation, { route: 'components', unexplained: null }).inputs.map(
      (input) => input.name,
    );
    expect(names).toContain('b1_Ti');
    expect(names.some((name) => name.startsWith('b1_Ti_336'))).toBe(true);
    expect(names.filter((name) => name.startsWith('std_'))).toHaveLength(1);
    const own = validateMatrix(combined).budgets.find((budget) => budget.analyte === 'Ti')!;
    expect(JSON.stringify(own)).toContain('b1_Ti_336');
  });

  it('is refused run by run, in words', () => {
    expect(() => streamContext(combined)).toThrow('found Ti made of two lines');
  });
});
