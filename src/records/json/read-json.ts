import { InputError } from '../../errors.js';
import type { IssueList } from '../issue-list.js';
import { type Refused, refused } from '../table-form/column.js';
import { parseJson } from './parse-json.js';
import type { Shape } from './shape.js';

/** Decodes a JSON document; each problem is an issue whose column is the path of the key. */
export function decodeJson<T>(
  shape: Shape<T>,
  content: Uint8Array,
  file: string,
  issues: IssueList,
): T | Refused {
  const refuse = (path: string, found: string, expected: string) =>
    issues.add({ code: 'key', file, row: null, column: path === '' ? null : path, found, expected });
  const value = parseJson(content);
  if ('problem' in value) {
    issues.add({
      code: 'file form',
      file,
      row: null,
      column: null,
      found: value.problem,
      expected: 'JSON in UTF-8',
    });
    return refused;
  }
  return shape.decode(value.json, '', refuse);
}

/** The decimal mark a plan states, even where the rest of the plan does not pass. */
export function statedDecimalMark(content: Uint8Array): 'point' | 'comma' | null {
  const value = parseJson(content);
  if ('problem' in value || typeof value.json !== 'object' || value.json === null) return null;
  const mark: unknown = 'decimalMark' in value.json ? value.json.decimalMark : null;
  return mark === 'point' || mark === 'comma' ? mark : null;
}

/**
 * JSON text of a document, with two blanks of indentation and the keys in the order of its shape.
 * @throws InputError a value the shape refuses
 */
export function encodeJson<T>(shape: Shape<T>, value: T, file: string): string {
  const problems: string[] = [];
  const ordered = shape.decode(value, '', (path, found, expected) => {
    problems.push(`${path}: found ${found}, expected ${expected}`);
  });
  if (ordered === refused) throw new InputError(`${file}, ${problems.join('; ')}`);
  return `${JSON.stringify(ordered, null, 2)}\n`;
}
