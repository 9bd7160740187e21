import type { RecordIssue } from '../../errors.js';

/** The part of JSON Schema (draft 2020-12) that describes our files. */
export interface JsonSchema {
  readonly $schema?: string;
  readonly title?: string;
  readonly description?: string;
  readonly type?: 'object' | 'array' | 'string' | 'number' | 'integer' | 'boolean';
  readonly properties?: Readonly<Record<string, JsonSchema>>;
  readonly required?: readonly string[];
  readonly additionalProperties?: false;
  readonly items?: JsonSchema;
  readonly minItems?: number;
  readonly minLength?: number;
  readonly minimum?: number;
  readonly exclusiveMinimum?: number;
  readonly exclusiveMaximum?: number;
  readonly const?: string;
  readonly enum?: readonly string[];
  readonly oneOf?: readonly JsonSchema[];
}

/** A member found to be wrong: `path` such as `inputs[2].value`, empty for the whole. */
export interface SchemaFault {
  readonly code: string;
  readonly path: string;
  readonly found: string;
  readonly expected: string;
}

/**
 * All faults of a value against a schema. Alternatives are told apart by the constant of one member, such as `from`.
 *
 * @example
 * schemaFaults({ a: 'x' }, { type: 'object', properties: { a: { type: 'number' } } })[0].path // => 'a'
 */
export function schemaFaults(value: unknown, schema: JsonSchema, path = ''): SchemaFault[] {
  if (schema.oneOf !== undefined) return alternativeFaults(value, schema.oneOf, path);
  const type = typeOf(value);
  if (schema.type !== undefined && !isOfType(value, type, schema.type)) {
    return [{ code: 'type', path, found: shown(value), expected: typeWords[schema.type] }];
  }
  if (type === 'object') return objectFaults(value as Record<string, unknown>, schema, path);
  if (type === 'array') return arrayFaults(value as readonly unknown[], schema, path);
  return scalarFaults(value, schema, path);
}

/** The fault as an issue of a file. */
export function faultToIssue(fault: SchemaFault, file: string): RecordIssue {
  const { code, path, found, expected } = fault;
  return { code, file, row: null, column: path === '' ? null : path, found, expected };
}

function typeOf(value: unknown): string {
  if (value === null) return 'null';
  return Array.isArray(value) ? 'array' : typeof value;
}

function isOfType(value: unknown, type: string, wanted: string): boolean {
  if (wanted === 'integer') return Number.isInteger(value);
  if (wanted === 'number') return type === 'number' && Number.isFinite(value);
  return type === wanted;
}

/** A type in words, as problems of the records tell it. */
const typeWords = {
  object: 'an object',
  array: 'a list',
  string: 'a text',
  number: 'a number',
  integer: 'a whole number',
  boolean: 'true or false',
} as const;

/** Type and meaning of a value that is not there. */
function wantedInWords({ type, description }: JsonSchema): string {
  return [type === undefined ? 'a value' : typeWords[type], description].filter(Boolean).join(': ');
}

function shown(value: unknown): string {
  const text = JSON.stringify(value) ?? String(value);
  return text.length > 60 ? `${text.slice(0, 57)}...` : text;
}

function member(path: string, name: string): string {
  return path === '' ? name : `${path}.${name}`;
}

function objectFaults(value: Record<string, unknown>, schema: JsonSchema, path: string): SchemaFault[] {
  const { properties = {}, required = [] } = schema;
  const missing = required
    .filter((name) => !Object.hasOwn(value, name))
    .map((name) => ({
      code: 'missing',
      path: member(path, name),
      found: 'no such key',
      expected: wantedInWords(properties[name] ?? {}),
    }));
  const faults = Object.entries(value).flatMap(([name, inner]) => {
    if (Object.hasOwn(properties, name)) return schemaFaults(inner, properties[name]!, member(path, name));
    if (schema.additionalProperties === undefined) return [];
    const expected = `one of ${Object.keys(properties).join(', ')}`;
    return [{ code: 'unknown', path: member(path, name), found: 'an unknown key', expected }];
  });
  return [...missing, ...faults];
}

function arrayFaults(value: readonly unknown[], schema: JsonSchema, path: string): SchemaFault[] {
  const { items, minItems = 0 } = schema;
  const few =
    value.length < minItems
      ? [{ code: 'too-few', path, found: `${value.length} item(s)`, expected: `at least ${minItems}` }]
      : [];
  const inner =
    items === undefined ? [] : value.flatMap((item, i) => schemaFaults(item, items, `${path}[${i}]`));
  return [...few, ...inner];
}

function scalarFaults(value: unknown, schema: JsonSchema, path: string): SchemaFault[] {
  const expected = scalarExpectation(value, schema);
  return expected === undefined ? [] : [{ code: 'value', path, found: shown(value), expected }];
}

function scalarExpectation(value: unknown, schema: JsonSchema): string | undefined {
  if (schema.const !== undefined && value !== schema.const) return `"${schema.const}"`;
  if (schema.enum !== undefined && !schema.enum.includes(value as string)) {
    return `one of ${schema.enum.map((text) => `"${text}"`).join(', ')}`;
  }
  if (typeof value === 'string' && value.length < (schema.minLength ?? 0)) return 'a text that is not empty';
  if (typeof value !== 'number') return undefined;
  const { minimum, exclusiveMinimum: above, exclusiveMaximum: below } = schema;
  if (minimum !== undefined && value < minimum) return `a number of at least ${minimum}`;
  if (above !== undefined && value <= above) return `a number above ${above}`;
  return below !== undefined && value >= below ? `a number below ${below}` : undefined;
}

function alternativeFaults(value: unknown, alternatives: readonly JsonSchema[], path: string): SchemaFault[] {
  if (typeOf(value) !== 'object') return [{ code: 'type', path, found: shown(value), expected: 'an object' }];
  const name = tagOf(alternatives);
  const tag = (value as Record<string, unknown>)[name];
  const chosen = alternatives.find((schema) => tagsOf(schema, name).includes(tag as string));
  if (chosen !== undefined) return schemaFaults(value, chosen, path);
  const known = alternatives.flatMap((schema) => tagsOf(schema, name)).map((text) => `"${text}"`);
  const found = tag === undefined ? 'nothing' : shown(tag);
  return [{ code: 'value', path: member(path, name), found, expected: `one of ${known.join(', ')}` }];
}

/** The member whose constant tells alternatives apart. */
function tagOf(alternatives: readonly JsonSchema[]): string {
  const [name] = Object.entries(alternatives[0]?.properties ?? {}).find(
    ([, schema]) => schema.const !== undefined || schema.enum !== undefined,
  ) ?? ['kind'];
  return name;
}

function tagsOf(schema: JsonSchema, name: string): readonly string[] {
  const tag = schema.properties?.[name];
  return tag?.const !== undefined ? [tag.const] : (tag?.enum ?? []);
}
