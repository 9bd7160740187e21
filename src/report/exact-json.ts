import { InputError } from '../errors.js';

function numberText(value: number, path: string): string {
  if (Number.isNaN(value)) throw new InputError(`${path}: found NaN, expected a number`);
  if (!Number.isFinite(value)) return value > 0 ? '"Infinity"' : '"-Infinity"';
  return String(Object.is(value, -0) ? 0 : value);
}

function isShort(items: readonly unknown[]): boolean {
  return items.every((item) => item === null || ['number', 'boolean'].includes(typeof item));
}

function isList(value: object): value is readonly unknown[] {
  return Array.isArray(value) || (ArrayBuffer.isView(value) && !(value instanceof DataView));
}

function listText(items: readonly unknown[], indent: string, path: string): string {
  if (items.length === 0) return '[]';
  const inner = `${indent}  `;
  const texts = Array.from(items, (item, index) => jsonText(item ?? null, inner, `${path}[${index}]`));
  if (isShort(Array.from(items))) return `[${texts.join(', ')}]`;
  return `[\n${texts.map((item) => inner + item).join(',\n')}\n${indent}]`;
}

function recordText(record: object, indent: string, path: string): string {
  const source = record instanceof Map ? Object.fromEntries(record) : record;
  const entries = Object.entries(source).filter(([, value]) => value !== undefined);
  if (entries.length === 0) return '{}';
  const inner = `${indent}  `;
  const lines = entries
    .sort(([first], [second]) => (first < second ? -1 : 1))
    .map(([key, value]) => `${inner}${JSON.stringify(key)}: ${jsonText(value, inner, `${path}.${key}`)}`);
  return `{\n${lines.join(',\n')}\n${indent}}`;
}

/**
 * A value as JSON: every number as the shortest text that reads back to the same number, keys in alphabetical order, an
 * unlimited number as the text "Infinity".
 *
 * @param path name of the value, for messages
 * @throws InputError a value that is not a number, or of a kind that JSON does not know; its place is named
 * @example
 * exactJson([0.1, 1 / 0], 'list') // => '[0.1, "Infinity"]'
 */
export function exactJson(value: unknown, path: string): string {
  return jsonText(value, '', path);
}

function jsonText(value: unknown, indent: string, path: string): string {
  if (typeof value === 'number') return numberText(value, path);
  if (value === null || typeof value === 'string' || typeof value === 'boolean') return JSON.stringify(value);
  if (typeof value !== 'object') {
    throw new InputError(`${path}: found a ${typeof value}, expected text, a number, a list or a record`);
  }
  return isList(value) ? listText(value, indent, path) : recordText(value, indent, path);
}
