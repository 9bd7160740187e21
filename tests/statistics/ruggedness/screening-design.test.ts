import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { screeningDesign } from '../../../src/statistics/ruggedness/screening-design.js';

const names = (count: number) => Array.from({ length: count }, (_, k) => `factor ${k + 1}`);

describe('two-level screening designs', () => {
  it.each([8, 12] as const)('%i runs: every column is balanced and orthogonal to every other', (runs) => {
    const { levels } = screeningDesign(names(runs - 1), runs);
    expect(levels).toHaveLength(runs);
    for (let a = 0; a < runs - 1; a++) {
      expect(levels.reduce((sum, row) => sum + row[a]!, 0)).toBe(0);
      for (let b = 0; b < a; b++) expect(levels.reduce((sum, row) => sum + row[a]! * row[b]!, 0)).toBe(0);
    }
  });

  it('12 runs: the first row is the generator of Plackett and Burman 1946 (remembered)', () => {
    const { levels } = screeningDesign(names(11), 12);
    expect(levels[0]!.map((v) => (v > 0 ? '+' : '-')).join('')).toBe('++-+++---+-');
    expect(levels[11]!.every((v) => v === -1)).toBe(true);
  });

  it('calls columns without a factor dummies', () => {
    const design = screeningDesign(names(5), 8);
    expect(design.dummies).toEqual(['dummy 1', 'dummy 2']);
    expect(design.names).toHaveLength(7);
    expect(design.notes.join(' ')).toContain('interactions');
  });

  it('refuses too many factors, none, equal names and other numbers of runs', () => {
    expect(() => screeningDesign(names(8), 8)).toThrow('found 8, expected 1 to 7 in 8 runs');
    expect(() => screeningDesign([], 8)).toThrow(InputError);
    expect(() => screeningDesign(['a', 'a'], 12)).toThrow('two of one name');
    expect(() => screeningDesign(['a'], 10 as 8)).toThrow('runs: found 10');
  });
});
