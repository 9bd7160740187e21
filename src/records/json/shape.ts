import { elementSymbols } from '../../quantities/atomic-weights.js';
import { isCalendarDate } from '../dates.js';
import { type Bounds, boundsWording, withinBounds } from '../table-form/bounds.js';
import { type Refused, refused } from '../table-form/column.js';

/** Told of each problem: path of the key, what was found and what was expected. */
export type Refuse = (path: string, found: string, expected: string) => void;

/** What a JSON value must look like, and the typed value made of it. */
export interface Shape<T> {
  /** Kind of value in words, for the guide. */
  readonly expected: string;
  readonly decode: (value: unknown, path: string, refuse: Refuse) => T | Refused;
  /** Keys below this one, for the guide. */
  readonly keys?: readonly GuideKey[];
}

/** One key of a document, as the guide lists it. */
export interface GuideKey {
  readonly path: string;
  readonly expected: string;
}

/** A key that may be left out. */
export interface OptionalShape<T> {
  readonly shape: Shape<T>;
  readonly isOptional: true;
}

/** One shape for each key of an object; a key that the type lets one leave out is marked `optional`. */
export type ShapesOf<T> = {
  readonly [K in keyof T]-?: Record<never, never> extends Pick<T, K>
    ? OptionalShape<Exclude<T[K], undefined>>
    : Shape<T[K]>;
};

/** Whether a document as it was begun still holds nothing here: empty texts and null alone, in one key or more. */
function isUntouched(value: unknown): boolean {
  if (value === '' || value === null) return true;
  if (typeof value !== 'object') return false;
  const below = Object.values(value);
  return below.length > 0 && below.every(isUntouched);
}

/** As `isUntouched`, for what has keys below it: one problem then stands for one of each of them. */
function isUntouchedPart(value: unknown): boolean {
  return typeof value === 'object' && value !== null && isUntouched(value);
}

/** Shows a JSON value in an issue. */
function show(value: unknown): string {
  if (value === undefined) return 'no such key';
  if (isUntouchedPart(value)) return 'nothing filled in';
  const text = JSON.stringify(value);
  return text.length > 60 ? `${text.slice(0, 60)}…` : text;
}

function shape<T>(expected: string, accept: (value: unknown) => T | Refused): Shape<T> {
  return {
    expected,
    decode: (value, path, refuse) => {
      const decoded = accept(value);
      if (decoded === refused) refuse(path, show(value), expected);
      return decoded;
    },
  };
}

/** A text with content. */
export const textShape: Shape<string> = shape('a text', (value) =>
  typeof value === 'string' && value.trim() !== '' ? value : refused,
);

/** Symbol of a chemical element. */
export const elementShape: Shape<string> = shape('the symbol of an element such as "Al"', (value) =>
  typeof value === 'string' && elementSymbols.includes(value) ? value : refused,
);

/** A text that may be empty. */
export const anyTextShape: Shape<string> = shape('a text, or ""', (value) =>
  typeof value === 'string' ? value : refused,
);

export const booleanShape: Shape<boolean> = shape('true or false', (value) =>
  typeof value === 'boolean' ? value : refused,
);

export const dateShape: Shape<string> = shape('a calendar date such as "2025-03-14"', (value) =>
  typeof value === 'string' && isCalendarDate(value) ? value : refused,
);

export function numberShape(bounds: Bounds = {}): Shape<number> {
  return shape(boundsWording('a number', bounds), (value) =>
    typeof value === 'number' && withinBounds(value, bounds) ? value : refused,
  );
}

export function integerShape(bounds: Bounds = {}): Shape<number> {
  return shape(boundsWording('a whole number', bounds), (value) =>
    typeof value === 'number' && Number.isSafeInteger(value) && withinBounds(value, bounds) ? value : refused,
  );
}

export function choiceShape<const T extends string>(choices: readonly T[]): Shape<T> {
  const expected = `one of: ${choices.map((each) => `"${each}"`).join(', ')}`;
  return shape(expected, (value) => choices.find((each) => each === value) ?? refused);
}

export function nullable<T>(inner: Shape<T>): Shape<T | null> {
  return {
    ...inner,
    expected: `${inner.expected}; or null`,
    decode: (value, path, refuse) => {
      if (value === null) return null;
      return decodeOptional(inner, value, path, offering('null', path, refuse));
    },
  };
}

/** Says of the key itself, not of those below it, what else it may be. */
function offering(other: string, path: string, refuse: Refuse): Refuse {
  return (at, found, expected) => refuse(at, found, at === path ? `${expected}; or ${other}` : expected);
}

/** One problem, not one for each key, where a part that may be left out holds nothing yet. */
function decodeOptional<T>(inner: Shape<T>, value: unknown, path: string, refuse: Refuse): T | Refused {
  if (!isUntouchedPart(value)) return inner.decode(value, path, refuse);
  refuse(path, show(value), inner.expected);
  return refused;
}

export function optional<T>(inner: Shape<T>): OptionalShape<T> {
  return { shape: inner, isOptional: true };
}

/** A list of values of one shape, at least `least` of them. */
export function listShape<T>(inner: Shape<T>, least = 0): Shape<readonly T[]> {
  const expected = least === 0 ? 'a list' : `a list of at least ${least}`;
  return {
    expected: `${expected}: ${inner.expected}`,
    ...(inner.keys === undefined
      ? {}
      : { keys: inner.keys.map((key) => ({ ...key, path: `[].${key.path}` })) }),
    decode: (value, path, refuse) => {
      if (!Array.isArray(value) || value.length < least) {
        refuse(path, show(value), expected);
        return refused;
      }
      const items = value.map((item: unknown, i) => {
        const at = `${path}[${i}]`;
        if (least > 0) return inner.decode(item, at, refuse);
        return decodeOptional(inner, item, at, offering('no such entry', at, refuse));
      });
      const sound = items.filter((item): item is Awaited<T> & T => item !== refused);
      return sound.length === items.length ? sound : refused;
    },
  };
}

/** An object with exactly these keys; the decoded object has them in this order. */
export function objectShape<T extends object>(shapes: ShapesOf<T>): Shape<T> {
  const known = Object.entries(shapes) as [string, Shape<unknown> | OptionalShape<unknown>][];
  const expected = `an object with the keys ${known.map(([key]) => key).join(', ')}`;
  return {
    expected,
    keys: known.flatMap(([key, each]) => guideKeys(key, each)),
    decode: (value, path, refuse) => {
      if (typeof value !== 'object' || value === null || Array.isArray(value)) {
        refuse(path, show(value), expected);
        return refused;
      }
      const source = value as Readonly<Record<string, unknown>>;
      for (const key of Object.keys(source)) {
        if (Object.hasOwn(shapes, key)) continue;
        refuse(join(path, key), 'an unknown key', `one of: ${known.map(([each]) => each).join(', ')}`);
      }
      const result: Record<string, unknown> = {};
      let isSound = true;
      for (const [key, each] of known) {
        const found = Object.hasOwn(source, key) ? source[key] : undefined;
        if (found === undefined && 'isOptional' in each) continue;
        const at = join(path, key);
        const decoded =
          'isOptional' in each
            ? decodeOptional(each.shape, found, at, offering('no such key', at, refuse))
            : each.decode(found, at, refuse);
        if (decoded === refused) isSound = false;
        else result[key] = decoded;
      }
      // Every key of T was decoded by the shape that `ShapesOf` asks for.
      return isSound ? (result as T) : refused;
    },
  };
}

function join(path: string, key: string): string {
  return path === '' ? key : `${path}.${key}`;
}

function guideKeys(key: string, each: Shape<unknown> | OptionalShape<unknown>): GuideKey[] {
  const inner = 'isOptional' in each ? each.shape : each;
  const expected = 'isOptional' in each ? `${inner.expected} (may be left out)` : inner.expected;
  const below = (inner.keys ?? []).map((k) => ({
    ...k,
    path: k.path.startsWith('[]') ? `${key}${k.path}` : `${key}.${k.path}`,
  }));
  return [{ path: key, expected }, ...below];
}
