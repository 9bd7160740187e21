import { InputError } from '../errors.js';

/**
 * JSON text that depends on the value only: keys sorted by UTF-16 code units, no white space, numbers in their
 * shortest form. Fit for a hash. A key whose value is `undefined` is left out, as in JSON.
 *
 * @throws InputError a number that is not finite, or a value JSON cannot hold (function, big integer, date, …)
 * @see RFC 8785 (from memory)
 * @example
 * canonicalJson({ b: [1, 2.50], a: 'x' }) // => '{"a":"x","b":[1,2.5]}'
 */
export function canonicalJson(value: unknown): string {
  return write(value, '');
}

function write(value: unknown, path: string): string {
  if (value === null || typeof value === 'boolean') return String(value);
  if (typeof value === 'string') return JSON.stringify(value);
  if (typeof value === 'number' && Number.isFinite(value)) return JSON.stringify(value);
  if (Array.isArray(value)) {
    return `[${value.map((item, index) => write(item, `${path}[${index}]`)).join(',')}]`;
  }
  if (isPlainObject(value)) {
    const parts = Object.keys(value)
      .filter((key) => value[key] !== undefined)
      .sort()
      .map((key) => `${JSON.stringify(key)}:${write(value[key], `${path}.${key}`)}`);
    return `{${parts.join(',')}}`;
  }
  throw new InputError(
    `canonical JSON${path === '' ? '' : ` at ${path}`}: found ${String(value)}, expected a value JSON can hold`,
  );
}

function isPlainObject(value: unknown): value is Record<string, unknown> {
  if (typeof value !== 'object' || value === null) return false;
  const prototype: unknown = Object.getPrototypeOf(value);
  return prototype === Object.prototype || prototype === null;
}
