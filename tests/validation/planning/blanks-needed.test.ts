import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { blanksNeeded } from '../../../src/validation/planning/blanks-needed.js';

describe('blanks needed', () => {
  // The planning table: criterion ÷ σ_b 2.84, 2.10, 1.94, 1.64, 1.49 at 6, 10, 12, 20, 30 blanks for 90 % power.
  it('follows the exact table', () => {
    expect(blanksNeeded(2.85, 0.9)).toBe(6);
    expect(blanksNeeded(2.11, 0.9)).toBe(10);
    expect(blanksNeeded(1.95, 0.9)).toBe(12);
    expect(blanksNeeded(1.65, 0.9)).toBe(20);
    expect(blanksNeeded(1.495, 0.9)).toBe(30);
  });

  it('never proposes fewer than the structural rule asks for', () => {
    expect(blanksNeeded(100, 0.9)).toBe(6);
    expect(() => blanksNeeded(1.01, 0.9)).toThrow(InputError);
  });
});
