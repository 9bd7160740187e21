import { describe, expect, it } from 'vitest';
import { atomicWeight, elementSymbols } from '../../src/quantities/atomic-weights.js';
import { reference } from '../support/reference.js';

// IUPAC/CIAAW, abridged table 2024: values remembered and recomputed.
const abridged = reference<{ published: { name: string; printed: string; uncertainty: string }[] }>(
  'quantities/abridged-atomic-weights',
);

describe('atomicWeight', () => {
  it.each(abridged.published)('lies with its whole interval within the abridged value of $name', (row) => {
    const { value, halfWidth } = atomicWeight(row.name);
    const reach = Math.abs(value - Number(row.printed)) + halfWidth;
    expect(reach).toBeLessThanOrEqual(Number(row.uncertainty) * (1 + 1e-9));
  });

  it.each([
    ['Zr', 91.222, 0.003],
    ['Yb', 173.045, 0.01],
    ['O', 15.9994, 0.00037],
    ['Pb', 207.04, 0.9],
    ['F', 18.998403162, 5e-9],
  ])('reads the printed form of %s', (element, value, halfWidth) => {
    const found = atomicWeight(element);
    expect(found.value).toAgreeWithin(value, 1e-15);
    expect(found.halfWidth).toAgreeWithin(halfWidth, 1e-9);
    expect(found.standardUncertainty).toAgreeWithin(halfWidth / Math.sqrt(3), 1e-9);
  });

  it('rises along the table but where nature does not', () => {
    const falls = elementSymbols.filter(
      (symbol, i) => i > 0 && atomicWeight(symbol).value < atomicWeight(elementSymbols[i - 1]!).value,
    );
    expect(falls).toEqual(['K', 'Ni', 'I', 'Pa']);
    expect(elementSymbols).toHaveLength(84);
  });

  it.each(['Tc', 'constructor', '', 'zr'])('refuses "%s"', (symbol) => {
    expect(() => atomicWeight(symbol)).toThrow(`found element "${symbol}"`);
  });
});
