import { describe, expect, it } from 'vitest';
import { describeIssue, InputError, RecordsError, requireFinite, requireInteger } from '../src/errors.js';

describe('errors', () => {
  it('describes a problem with file, row, column, found and expected', () => {
    const issue = {
      code: 'number',
      file: 'digestions.csv',
      row: 7,
      column: 'flux g',
      found: '"2,O1"',
      expected: 'a number',
    };
    expect(describeIssue(issue)).toBe(
      'digestions.csv, row 7, column "flux g": found "2,O1"; expected a number',
    );
    expect(new RecordsError([issue, { ...issue, row: 9 }]).message.split('\n')).toHaveLength(3);
  });

  it('names the position of a value that is not finite', () => {
    expect(() => requireFinite([1, Number.NaN], 'values')).toThrow(
      new InputError('values: found NaN at position 2, expected a finite number'),
    );
    expect(() => requireFinite([1], 'values', 2)).toThrow(InputError);
    expect(() => requireInteger(1.5, 'days', 1, 9)).toThrow(
      'days: found 1.5, expected a whole number from 1 to 9',
    );
  });
});
