import { describe, expect, it } from 'vitest';
import type { StudyRecords } from '../../../src/records/study-records.js';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { evaluateStudy } from '../../../src/studies/evaluate-study.js';
import { carryOverStudy } from '../../../src/studies/matrix/carry-over-study.js';
import { validateMatrix } from '../../../src/studies/matrix/validate-matrix.js';

const { records } = zirconPigmentStudy({ seed: 41 });
const studied = (changed: Partial<StudyRecords>) => carryOverStudy(evaluateStudy({ ...records, ...changed }));
const ofZero = (solution: string) => solution === 'ZERO';

describe('carry-over from the records of a study', () => {
  it('compares each zero solution with the highest standard ahead of it and the zero standard of its run', () => {
    const found = studied({});
    expect(found.map(({ finding }) => [finding.analyte, finding.level, finding.n])).toEqual([
      ['Zr', 'CAL-B6', 10],
      ['Si', 'CAL-B6', 10],
      ['Pr', 'CAL-B6', 10],
      ['Hf', 'CAL-A6', 10],
      ['Al', 'CAL-A6', 10],
      ['Fe', 'CAL-A6', 10],
      ['Ti', 'CAL-A6', 10],
      ['Ca', 'CAL-A6', 10],
    ]);
    for (const { finding, meanRichContent } of found) {
      expect(finding.verdict).toBe('met');
      const highest = records.calibration
        .filter((row) => row.analyte === finding.analyte)
        .map((row) => row.massFractionMgPerKg!);
      expect(meanRichContent).toAgreeWithin(Math.max(...highest), 0.02);
    }
  });

  it('finds what is carried over: zero solutions that hold half a percent of the standard ahead', () => {
    const share = 0.005;
    const rich = new Map(
      records.readings
        .filter((r) => r.solution === 'CAL-A6')
        .map((r) => [`${r.run}|${r.lineNm}|${r.repeat}`, r.intensity]),
    );
    const readings = records.readings.map((r) => {
      const ahead = rich.get(`${r.run}|${r.lineNm}|${r.repeat}`);
      if (!ofZero(r.solution) || ahead === undefined || r.position > 10) return r;
      return { ...r, intensity: r.intensity + share * ahead };
    });
    const fe = studied({ readings }).find(({ finding }) => finding.analyte === 'Fe')!;
    expect(fe.finding.estimate).toAgreeWithin(100 * share, 0.05);
    expect(fe.finding.verdict).toBe('not met');
  });

  it('is not studied where the plan names no zero solution, or none was read', () => {
    const { carryOver: _, ...plan } = records.plan;
    const readings = records.readings.filter((r) => !ofZero(r.solution));
    expect(studied({ plan, readings })).toEqual([]);
    const { findings } = validateMatrix({ ...records, readings });
    const missing = findings.filter((f) => f.characteristic === 'carry-over');
    expect(missing.length).toBe(8);
    expect(missing.every((f) => f.verdict === 'not studied')).toBe(true);
  });
});
