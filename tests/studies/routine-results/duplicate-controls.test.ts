import { describe, expect, it } from 'vitest';
import type { StudyRecords } from '../../../src/records/study-records.js';
import { zirconRoutineRun } from '../../../src/scenario/routine/zircon-routine-run.js';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { validateMatrix } from '../../../src/studies/matrix/validate-matrix.js';
import { studyCovariance } from '../../../src/studies/result-covariance/study-covariance.js';
import { routineResults } from '../../../src/studies/routine-results/routine-results.js';

const seed = 77;
const validation = validateMatrix(zirconPigmentStudy({ seed }).records);
const { records } = zirconRoutineRun(seed);
const { scatter } = studyCovariance(validation.study, records.plan.route);
const variances = (analyte: string) => {
  const at = scatter.analytes.indexOf(analyte);
  return { digestion: scatter.digestions[at]![at]!, day: Math.max(0, scatter.days[at]![at]!) };
};
const pair = records.digestions.filter((d) => d.sample === 'RS-25').map((d) => d.digestion);
const controlOf = (of: StudyRecords, sample: string, analyte: string) => {
  const found = routineResults(of, validation);
  return {
    control: found.controls.find((c) => c.control.endsWith(` of ${sample}`) && c.about === analyte)!,
    result: found.results.find((r) => r.sample === sample && r.analyte === analyte)!,
  };
};
const withRows = (
  change: (row: StudyRecords['digestions'][number]) => StudyRecords['digestions'][number],
): StudyRecords => ({ ...records, digestions: records.digestions.map(change) });

describe('the control of samples digested more than once', () => {
  it('takes the range relative to the lowest content to be reported where the mean lies below it', () => {
    const blanks = records.digestions.filter((d) => d.kind === 'blank').map((d) => d.digestion);
    const asBlank = new Map(pair.map((digestion, i) => [digestion, blanks[i + 1]!]));
    const low = {
      ...records,
      readings: records.readings.map((r) => {
        const blank = asBlank.get(r.solution);
        if (blank === undefined || r.analyte !== 'Ca') return r;
        const own = records.readings.find(
          (b) => b.solution === blank && b.analyte === 'Ca' && b.lineNm === r.lineNm && b.repeat === r.repeat,
        )!;
        return {
          ...r,
          intensity: own.intensity,
          internalStandardIntensity: own.internalStandardIntensity,
        };
      }),
    };
    const { control, result } = controlOf(low, 'RS-25', 'Ca');
    const found = routineResults(low, validation).run.results.filter(
      (r) => r.sample === 'RS-25' && r.analyte === 'Ca',
    );
    const range = Math.abs(found[0]!.value! - found[1]!.value!);
    expect(Math.abs(result.value!)).toBeLessThan(20);
    // 150 mg/kg is the lowest content that the plan reports.
    expect(control.found!).toAgreeWithin((100 * range) / 150, 1e-9);
    expect(control.passed).toBe(true);
    // Calcium read as in a blank, less what the praseodymium of the sample seems to be of it: below zero, and held for that alone.
    expect(result.text).toMatch(/^< 150 /);
    expect(result.flags.filter((f) => f.holds).map((f) => f.kind)).toEqual(['below zero']);
  });

  it('is listed as not made where one of two gave no value, and says why', () => {
    const [, second] = pair;
    const unread = {
      ...records,
      readings: records.readings.filter((r) => r.solution !== second || r.analyte !== 'Ca'),
    };
    const { control, result } = controlOf(unread, 'RS-25', 'Ca');
    expect(control).toMatchObject({
      control: 'duplicates of RS-25',
      found: null,
      passed: false,
      rule: `not made: ${second}: no reading of Ca`,
      holds: null,
    });
    // The plan of the run asks for one digestion.
    expect(result.status).toBe('reported');
    expect(controlOf(unread, 'RS-25', 'Ti').control.found).not.toBeNull();
  });

  it('holds three digestions against the critical range of three', () => {
    const third = records.digestions.find((d) => d.sample === 'RS-26')!.digestion;
    const three = withRows((d) => (d.digestion === third ? { ...d, sample: 'RS-25' } : d));
    const { control } = controlOf(three, 'RS-25', 'Zr');
    expect(control.control).toBe('repeated digestions of RS-25');
    expect(control.high!).toAgreeWithin(100 * 3.3 * Math.sqrt(variances('Zr').digestion), 1e-12);
  });

  it('allows digestions of two days the day’s part as well, and those of one day not', () => {
    const { digestion, day } = variances('Zr');
    expect(day).toBeGreaterThan(0);
    const apart = withRows((d) => (d.digestion === pair[1] ? { ...d, day: '2026-04-13' } : d));
    expect(controlOf(apart, 'RS-25', 'Zr').control.high!).toAgreeWithin(
      100 * 2.8 * Math.sqrt(digestion + day),
      1e-12,
    );
    expect(controlOf(records, 'RS-25', 'Zr').control.high!).toAgreeWithin(
      100 * 2.8 * Math.sqrt(digestion),
      1e-12,
    );
  });
});
