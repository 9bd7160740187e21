import { describe, expect, it } from 'vitest';
import { repeatScenario } from '../../src/coverage/repeat-scenario.js';

describe('repeated invented studies', () => {
  it('show what was planted in unseen seeds, and count it', () => {
    const result = repeatScenario({ firstSeed: 910_001, seeds: 8 });
    expect(result.allAsExpected).toBe(8);
    const aluminium = result.verdicts.find((v) => v.finding === 'trueness/Al/QRM-1')!;
    expect(aluminium).toMatchObject({ expected: 'not met', asExpected: 8, otherwise: {} });
    expect(result.intervals.every((i) => i.of === 8 && i.covered <= 8)).toBe(true);
    expect(result.intervals.some((i) => i.quantity === 'Al')).toBe(false);
  });

  it('refuse no seeds', () => {
    expect(() => repeatScenario({ firstSeed: 1, seeds: 0 })).toThrow('expected at least 1');
  });
});
