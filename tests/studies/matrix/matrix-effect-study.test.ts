import { describe, expect, it } from 'vitest';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { validateMatrix } from '../../../src/studies/matrix/validate-matrix.js';

const { records } = zirconPigmentStudy({ seed: 20260302 });
const validation = validateMatrix(records);
const solutions = new Set(records.additions.map((a) => a.solution));

/** The study whose solutions with additions read so much higher. */
function withReadings(change: (added: number, intensity: number) => number) {
  const added = new Map(records.additions.map((a) => [`${a.solution}|${a.analyte}`, a.added]));
  const readings = records.readings.map((r) =>
    solutions.has(r.solution)
      ? { ...r, intensity: change(added.get(`${r.solution}|${r.analyte}`) ?? 0, r.intensity) }
      : r,
  );
  return validateMatrix({ ...records, readings });
}

describe('matrix effect by slopes, from the records of a study', () => {
  it('compares both slopes in one run for every analyte, in the solution it is measured in', () => {
    expect(validation.matrixEffects.map((m) => [m.analyte, m.sample, m.points.length])).toEqual(
      records.plan.analytes.map((a) => [a.analyte, 'ZP-2', 5]),
    );
    for (const { effect, run } of validation.matrixEffects) {
      expect(effect.finding.verdict).toBe('met');
      expect(effect.finding.rows.map((r) => r.table)).toEqual(['additions', 'calibration']);
      expect(effect.finding.rows[1]!.keys.every((key) => key.startsWith(`${run}|`))).toBe(true);
    }
  });

  it('finds a sensitivity that the matrix lowers by a tenth', () => {
    const lowered = withReadings((_, intensity) => 0.9 * intensity).matrixEffects;
    expect(new Set(lowered.map((m) => m.effect.finding.verdict))).toEqual(new Set(['not met']));
    const before = validation.matrixEffects[0]!.effect.ratio;
    expect(lowered[0]!.effect.ratio / before).toAgreeWithin(0.9, 1e-9);
  });

  it('cannot find the additive overlap on aluminium, which the interference check finds', () => {
    const verdictOf = (characteristic: string) =>
      validation.findings.find((f) => f.characteristic === characteristic && f.analyte === 'Al')!.verdict;
    expect([verdictOf('matrix effect'), verdictOf('interference check')]).toEqual(['met', 'not met']);
  });

  it('is not studied without additions, and the reason says what would show it', () => {
    const found = validateMatrix({ ...records, additions: [] }).findings.filter(
      (f) => f.characteristic === 'matrix effect',
    );
    expect(found.map((f) => f.verdict)).toEqual(records.plan.analytes.map(() => 'not studied'));
    expect(found[0]!.reason).toContain('standard additions');
  });
});

describe('an interferent that is added with the analyte', () => {
  it('does not pass for a sensitivity: what the table of interferences says of it is subtracted', () => {
    // 25 mg/kg of praseodymium with every 0.6 mg/kg of calcium feign 4e-4 · 25 = 0.01 mg/kg: 1.67 % of the slope.
    const ratio = (study: typeof records) =>
      validateMatrix(study).matrixEffects.find((m) => m.analyte === 'Ca')!.effect.ratio;
    const [known] = records.interference.filter((k) => k.analyte === 'Ca' && k.interferent === 'Pr');
    const without = records.interference.filter((k) => k !== known);
    const change = ratio({ ...records, interference: without }) - ratio(records);
    expect(change).toAgreeWithin((known!.apparentPerUnit * 25) / 0.6, 1e-6);
  });
});
