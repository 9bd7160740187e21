import { describe, expect, it } from 'vitest';
import type { StudyRecords } from '../../../src/records/study-records.js';
import { zirconRoutineRun } from '../../../src/scenario/routine/zircon-routine-run.js';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { validateMatrix } from '../../../src/studies/matrix/validate-matrix.js';
import { flagsOfDigestion } from '../../../src/studies/routine-results/flags-of-digestion.js';
import { type RoutineResults, routineResults } from '../../../src/studies/routine-results/routine-results.js';

const seed = 77;
const validation = validateMatrix(zirconPigmentStudy({ seed }).records);
const { records } = zirconRoutineRun(seed);
const evaluate = (of: StudyRecords) => routineResults(of, validation);
const ruleOf = ({ controls }: RoutineResults, control: string, analyte: string) =>
  controls.find((c) => c.control === control && c.about === analyte)!.rule;
const changed = (
  digestion: string,
  change: Partial<StudyRecords['digestions'][number]>,
): StudyRecords['digestions'] =>
  records.digestions.map((d) => (d.digestion === digestion ? { ...d, ...change } : d));

describe('a control that rests on some of its digestions only', () => {
  const [first, second] = records.digestions.filter((d) => d.kind === 'blank').map((d) => d.digestion);

  it('names the blanks that gave no amount, and why', () => {
    const found = evaluate({
      ...records,
      digestions: changed(first!, { vesselEmptyG: null }),
      exclusions: [
        {
          table: 'digestions',
          rowKey: `${second}|Fe`,
          who: 'S. Varrendale',
          when: '2026-04-14',
          technicalCause: 'rust on the tongs',
        },
      ],
    });
    const lost = `${first}: no mass of the empty vessel, so the solution has no mass`;
    const rule =
      'highest blank above the mean blank of the validation, as mass fraction in the solid, against the limit of quantification';
    expect(ruleOf(found, 'procedure blank', 'Zr')).toBe(`${rule}; ${lost}`);
    expect(ruleOf(found, 'procedure blank', 'Fe')).toBe(
      `${rule}; ${lost}; ${second}: excluded (rust on the tongs); no usable blank of 2026-04-13, a day on which samples were fused`,
    );
    expect(ruleOf(evaluate(records), 'procedure blank', 'Fe')).toBe(rule);
  });

  it('names the day on which samples were fused, but no blank', () => {
    const digestions = records.digestions.map((d) =>
      d.kind === 'blank' && d.day === '2026-04-13' ? { ...d, day: '2026-04-14' } : d,
    );
    expect(ruleOf(evaluate({ ...records, digestions }), 'procedure blank', 'Zr')).toMatch(
      /; no usable blank of 2026-04-13, a day on which samples were fused$/,
    );
  });

  it('names digestions that were not clear, of blanks and of reference materials', () => {
    const material = records.digestions.find((d) => d.kind === 'reference')!.digestion;
    const digestions = changed(material, { solution: 'residue' }).map((d) =>
      d.digestion === first ? { ...d, melt: 'not clear' as const, remark: 'grey skin' } : d,
    );
    const found = evaluate({ ...records, digestions });
    expect(ruleOf(found, 'procedure blank', 'Zr')).toMatch(
      new RegExp(`; ${first}: the melt was not clear \\(grey skin\\)$`),
    );
    expect(ruleOf(found, 'reference material QRM-1', 'Zr')).toMatch(
      new RegExp(`; ${material}: the solution held a residue$`),
    );
  });
});

describe('the control of the internal standard', () => {
  it('names the solutions outside, of which a check solution has no result to hold', () => {
    const position = records.readings.find((r) => r.solution === 'CHK')!.position;
    const found = evaluate({
      ...records,
      readings: records.readings.map((r) =>
        r.position === position
          ? {
              ...r,
              intensity: 0.5 * r.intensity,
              internalStandardIntensity: 0.5 * r.internalStandardIntensity!,
            }
          : r,
      ),
    });
    const control = found.controls.find((c) => c.control === 'internal standard')!;
    expect(control.passed).toBe(false);
    expect(control.rule).toBe(
      `recovery of the solution farthest off; outside: run R-R1, position ${position} (CHK)`,
    );
  });
});

describe('a calibration without its lowest solutions', () => {
  it('holds contents below the lowest that is left', () => {
    const contents = records.calibration
      .filter((c) => c.analyte === 'Fe')
      .map((c) => c.massFractionMgPerKg!)
      .sort((a, b) => a - b);
    const lowest = contents[3]!;
    const found = evaluate({
      ...records,
      calibration: records.calibration.filter((c) => c.analyte !== 'Fe' || c.massFractionMgPerKg! >= lowest),
    });
    const inSolution = (text: string) => Number(/: ([\d.]+) mg\/kg in the solution/.exec(text)![1]);
    const flags = found.run.results
      .filter((r) => r.kind === 'sample' && r.analyte === 'Fe')
      .flatMap((r) => flagsOfDigestion(found.run, r))
      .filter((f) => f.kind === 'beyond the calibrated range' && f.text.includes('below'));
    expect(flags.length).toBeGreaterThan(5);
    for (const { text, holds } of flags) {
      expect(text).toMatch(new RegExp(`, below the lowest calibration solution of ${lowest} mg/kg$`));
      expect(inSolution(text)).toBeLessThan(lowest);
      expect(holds).toBe(true);
    }
  });
});
