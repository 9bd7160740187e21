import { InputError } from '../../errors.js';

/**
 * The value itself, unless it left the range of double precision on the way.
 *
 * @param expected what values would have served, such as `below 1e150`
 * @throws InputError the value is infinite
 */
export function requireWithinRange(value: number, what: string, expected: string): number {
  if (Math.abs(value) === Number.POSITIVE_INFINITY) {
    throw new InputError(`values: ${what} exceeds the range of numbers; expected values ${expected}`);
  }
  return value;
}
