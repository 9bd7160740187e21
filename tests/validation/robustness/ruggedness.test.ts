import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { type RuggednessRow, ruggedness } from '../../../src/validation/robustness/ruggedness.js';
import { criterion } from '../support.js';

const options = {
  analyte: 'Al',
  level: 'ZP-2',
  unit: 'mg/kg',
  criterion: criterion('within', 2, '%'),
  spread: { standardDeviation: 0.5, degreesOfFreedom: 20 },
};

/** Eight runs, seven factors (Plackett and Burman 1946), with given effects about a mean of 100. */
function design(effects: Record<string, number>): RuggednessRow[] {
  const generator = [1, 1, 1, -1, 1, -1, -1];
  const names = ['A', 'B', 'C', 'D', 'E', 'F', 'G'];
  return Array.from({ length: 8 }, (_, run) => {
    const levels = Object.fromEntries(
      names.map((name, f) => [name, run === 7 ? -1 : generator[(f + run) % 7]!]),
    ) as Record<string, -1 | 1>;
    const response = names.reduce((sum, name) => sum + (levels[name]! * (effects[name] ?? 0)) / 2, 100);
    return { key: `${run + 1}`, levels, response };
  });
}

describe('ruggedness', () => {
  it('recovers the effects of an orthogonal design and judges the largest', () => {
    const found = ruggedness(design({ A: 3, C: -0.4 }), options);
    expect(found.effects[0]).toMatchObject({ factor: 'A' });
    expect(found.effects[0]!.effect).toAgreeWithin(3, 1e-12);
    expect(found.effects[1]!.effect).toAgreeWithin(-0.4, 1e-10);
    expect(found.standardError).toAgreeWithin(1 / Math.sqrt(8), 1e-12);
    expect(found.finding.verdict).toBe('not met');
    expect(ruggedness(design({ A: 0.5 }), options).finding.verdict).toBe('met');
  });

  it('judges the effect that is worst against the criterion, not the largest', () => {
    // Mean 100, effects −6 % and +3 %, standard error 2·0.5/√8 = 0.35 %: −6 keeps −8 to 2 %, +3 breaks it.
    const wide = { ...options, criterion: criterion('within', 2, '%', -8) };
    const found = ruggedness(design({ A: -6, B: 3, C: 0.2 }), wide);
    expect(found.effects[0]!.factor).toBe('A');
    expect(found.finding.verdict).toBe('not met');
    expect(found.finding.estimate!).toAgreeWithin(3, 1e-12);
    expect(found.finding.quantity).toBe(
      'relative effect of B, not the largest, but the worst against the criterion, of 7',
    );
    const kept = ruggedness(design({ A: -6, B: 1 }), wide).finding;
    expect(kept).toMatchObject({ verdict: 'met' });
    expect(kept.quantity).toContain('effect of A, the largest of');
  });

  it('takes Lenth’s pseudo standard error where no spread is known', () => {
    // Sizes 3, 0.3, 0.3, 0.2, 0.2, 0.1, 0.1: median 0.2, s₀ = 0.3, all but 3 below 0.75; median of six 0.2, error 0.3.
    const rows = design({ A: 3, B: 0.3, C: -0.3, D: 0.2, E: -0.2, F: 0.1, G: -0.1 });
    const found = ruggedness(rows, { ...options, spread: null });
    expect(found.standardError).toAgreeWithin(0.3, 1e-9);
    expect(found.degreesOfFreedom).toAgreeWithin(7 / 3, 1e-12);
  });

  it('takes dummy columns as error where the design has some, and does not judge them', () => {
    const found = ruggedness(design({ A: 0.1, F: 0.2, G: -0.2 }), {
      ...options,
      spread: null,
      dummies: ['F', 'G'],
    });
    expect(found.errorFrom).toBe('dummies');
    expect(found.standardError).toAgreeWithin(0.2, 1e-9);
    expect(found.effects.map((effect) => effect.factor)).not.toContain('F');
  });

  it('takes the scatter of replicated runs where every run was done twice', () => {
    // Differences of each pair 0.4: variance 0.08 with 8 degrees of freedom, error 2·√(0.08/16).
    const twice = [0.2, -0.2].flatMap((d) =>
      design({ A: 3, B: 1, C: -1.5 }).map((row) => ({
        ...row,
        key: `${row.key}|${d}`,
        response: row.response + d,
      })),
    );
    const found = ruggedness(twice, { ...options, spread: null });
    expect(found.errorFrom).toBe('replicates');
    expect(found.degreesOfFreedom).toBe(8);
    expect(found.standardError).toAgreeWithin(2 * Math.sqrt(0.08 / 16), 1e-9);
    expect(found.effects[0]!.effect).toAgreeWithin(3, 1e-12);
  });

  it('refuses factors that go together, unequal levels and a missing factor', () => {
    const rows = design({});
    const copied = rows.map((row) => ({ ...row, levels: { ...row.levels, G: row.levels.F! } }));
    expect(() => ruggedness(copied, options)).toThrow('G and F');
    expect(() => ruggedness(rows.slice(0, 7), options)).toThrow(InputError);
    const missing = rows.map((row, i) => (i === 3 ? { ...row, levels: { A: 1 as const } } : row));
    expect(() => ruggedness(missing, options)).toThrow('run 4');
  });
});
