import { describe, expect, it } from 'vitest';
import type { Dilution } from '../../src/chain/dilution.js';
import { sharedKey } from '../../src/chain/shared-quantity.js';
import type { SolutionSignal } from '../../src/chain/solution-signal.js';

const balance = {} as Extract<Dilution, { aliquotG: number }>['balance'];
const dilution = (name: string): Dilution => ({ dilution: name, balance, aliquotG: 5, finalG: 100 });
const of = (analyte: string, dilutions: Record<string, Dilution> = {}, digestion = 'D-001') => ({
  digestion,
  signals: [{ analyte, lineNm: 1, solution: digestion, calibration: { run: 'R1' } } as SolutionSignal],
  dilutions,
});

describe('key of a quantity among all results', () => {
  // One result meets the 20-fold dilution first, the other the 100-fold one: the numbers of their factors are swapped.
  const first = of('Zr', { F: dilution('D-001-20'), F2: dilution('D-001-100') });
  const second = of('Hf', { F: dilution('D-001-100'), F2: dilution('D-001-20') });

  it.each(['rep_aliquot_', 'round_final_', 'fill_final_', 'rep_is_'])(
    'names the dilution of %s, whatever number it has in a result',
    (name) => {
      const key = (suffix: string, o: typeof first) =>
        sharedKey({ name: `${name}${suffix}`, equipment: 'BAL-2', variesWith: 'digestion' }, o);
      expect(key('F', first)).toBe(key('F2', second));
      expect(key('F', first)).not.toBe(key('F', second));
    },
  );

  it('names the balance for what recurs on it, by whatever name a result knows its sensitivity', () => {
    const on = (name: string) => sharedKey({ name, equipment: 'BAL-3', source: 'certificate' }, first);
    expect(on('S_p')).toBe(on('S_BAL_3'));
    expect(on('lin_aliquot_F')).toBe('lin_aliquot@BAL-3');
    expect(sharedKey({ name: 'lin_is', equipment: 'BAL-3' }, first)).toBe('lin_is@BAL-3');
  });

  it.each(['f_fd', 'f_prec'])('keeps %s of one analyte of one digestion apart from every other', (name) => {
    const key = (o: typeof first) => sharedKey({ name, source: '20 digestions' }, o);
    const keys = [of('Zr'), of('Hf'), of('Zr', {}, 'D-002')].map(key);
    expect(new Set(keys).size).toBe(3);
  });
});
