import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseDecimal } from '../../../src/records/csv/parse-decimal.js';

const parse = (text: string) => {
  const bytes = new TextEncoder().encode(`,${text},`);
  return parseDecimal(bytes, 1, bytes.length - 1);
};

describe('parseDecimal', () => {
  it('gives the very double that Number gives, or leaves the text to it', () => {
    const digits = fc.string({ unit: fc.constantFrom(...'0123456789'), minLength: 1, maxLength: 10 });
    const decimal = fc
      .tuple(fc.constantFrom('', '-'), digits, fc.option(digits, { nil: null }))
      .map(([sign, whole, part]) => `${sign}${whole}${part === null ? '' : `.${part}`}`);
    let read = 0;
    fc.assert(
      fc.property(decimal, (text) => {
        const value = parse(text);
        if (Number.isNaN(value)) return;
        read++;
        // No negative zero: −0 is read as 0.
        expect(value).toBe(Number(text) + 0);
      }),
      { numRuns: 5000 },
    );
    expect(read).toBeGreaterThan(3000);
  });

  it.each([
    '',
    '-',
    '.',
    '-.',
    '.5',
    '1e5',
    '+1',
    '1.2.3',
    '1,5',
    '0x10',
    'Infinity',
    '1 2',
    '--1',
    '1234567890.123456',
  ])('leaves "%s" to the slower reader', (text) => {
    expect(parse(text)).toBeNaN();
  });
});
