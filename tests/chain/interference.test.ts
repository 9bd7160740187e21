import { describe, expect, it } from 'vitest';
import { correctInterference } from '../../src/chain/interference.js';

const k = (analyte: string, interferent: string, value: number) => ({
  analyte,
  interferent,
  value,
  standardUncertainty: 0,
  source: '',
});

describe('interference correction', () => {
  it('gives back the true contents of a solution whose apparent contents follow (I + K) c', () => {
    const truth = { Al: 3.7, Zr: 925, Ti: 1.4 };
    const coefficients = [k('Al', 'Zr', 5e-4), k('Ti', 'Al', 1e-2), k('Al', 'Ti', 3e-2)];
    const apparent = {
      Al: truth.Al + 5e-4 * truth.Zr + 3e-2 * truth.Ti,
      Zr: truth.Zr,
      Ti: truth.Ti + 1e-2 * truth.Al,
    };
    const found = correctInterference(apparent, coefficients);
    for (const analyte of ['Al', 'Zr', 'Ti'] as const)
      expect(found[analyte]).toAgreeWithin(truth[analyte], 1e-13);
  });

  it('refuses an interferent that was not measured and a system without a single solution', () => {
    expect(() => correctInterference({ Al: 1 }, [k('Al', 'Zr', 1e-3)])).toThrow('interference of Zr on Al');
    expect(() => correctInterference({ A: 1, B: 1 }, [k('A', 'B', 1), k('B', 'A', 1)])).toThrow(
      'no single solution',
    );
  });
});
