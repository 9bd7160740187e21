import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { factorComponents } from '../../../src/validation/precision/factor-components.js';
import { blockAt, classicalSet } from '../../support/reference-sets.js';

describe('components by crossing factors', () => {
  it('gives the penicillin example (Davies and Goldsmith 1972, 6.6): plates as days, samples as operators', () => {
    const set = classicalSet('penicillin');
    const rows = set.numbers('diameter_mm').map((value, i) => ({
      key: `${i}`,
      day: set.text('plate')[i]!,
      operator: set.text('sample')[i]!,
      value,
    }));
    const found = factorComponents(rows, ['day', 'operator']);
    const expected = blockAt(set.results, 'reml_exact', 'components');
    expect(found.components[0]!.variance).toAgreeWithin(Number(expected.plate), 1e-9);
    expect(found.components[1]!.variance).toAgreeWithin(Number(expected.sample), 1e-9);
    expect(found.components[2]!.variance).toAgreeWithin(Number(expected.residual), 1e-9);
    expect(found.limits.upperOneSided).toBeGreaterThan(found.total);
  });

  it('warns where a factor has few levels', () => {
    const rows = [1, 2, 3, 4, 5, 6].flatMap((day) =>
      ['A', 'B'].map((operator) => ({
        key: `${day}${operator}`,
        day: `${day}`,
        operator,
        value: 10 + Math.sin(day) + (operator === 'A' ? 0.3 : 0) + 0.1 * Math.cos(7 * day),
      })),
    );
    const withSpread = rows.map((row, i) => ({ ...row, value: row.value + 0.05 * Math.sin(3 * i) }));
    expect(factorComponents(withSpread, ['day', 'operator']).notes.join(' ')).toContain(
      '2 levels of operator',
    );
  });

  it('refuses a row without the factor', () => {
    expect(() => factorComponents([{ key: 'a', day: '1', value: 1 }], ['operator'])).toThrow(InputError);
  });
});
