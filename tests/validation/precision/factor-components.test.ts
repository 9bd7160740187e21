import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { factorComponents } from '../../../src/validation/precision/factor-components.js';

describe('components by crossing factors', () => {
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
