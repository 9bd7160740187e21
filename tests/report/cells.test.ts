import { describe, expect, it } from 'vitest';
import { formatSignificant } from '../../src/quantities/rounding.js';
import { roundedCell } from '../../src/report/cells.js';

describe('a cell rounded to an uncertainty', () => {
  it.each([
    [99.534, 1.04, '99.5'],
    [100.2654, 1.0593, '100.3'],
    [100.1376, 0.862, '100.14'],
    // Rounding adds a digit before the point.
    [99.96, 1.04, '100.0'],
    [0.99, 1.04, '1.0'],
    // 0.996 to two digits is 1.0.
    [99.534, 0.996, '99.5'],
    [0.0421, 0.0012, '0.0421'],
    [-0.31, 1.2, '-0.3'],
    [0.02, 1.2, '0.0'],
  ])('shows %s ± %s as %s', (value, uncertainty, shown) => {
    const cell = roundedCell(value, uncertainty);
    if (cell.kind !== 'number') throw new Error(cell.kind);
    expect(formatSignificant(cell.value, cell.digits)).toBe(shown);
  });

  it('keeps the whole value for files where the digits show it rightly', () => {
    expect(roundedCell(99.534, 1.04)).toEqual({ kind: 'number', value: 99.534, digits: 3 });
  });
});
