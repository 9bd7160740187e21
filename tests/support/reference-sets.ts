import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';

/** A published example as kept in data/reference. */
export interface PublishedExample<Inputs, Published> {
  readonly title: string;
  readonly source: { readonly document: string; readonly edition: string; readonly clause: string };
  readonly figureTakenFrom: 'document read' | 'remembered and recomputed';
  readonly inputs: Inputs;
  /** Figures as printed. */
  readonly published: Published;
  /** Printed figures that exact arithmetic on the inputs does not give, with the exact value and the reason. */
  readonly notReproduced?: Readonly<
    Record<string, { readonly printed: string; readonly exact: number; readonly why: string }>
  >;
  /** Printed figures that no capability of the layer gives, with the reason. */
  readonly leftOut?: Readonly<Record<string, { readonly printed: string; readonly why: string }>>;
}

const root = resolve(__dirname, '../..');

/** Reads `data/reference/<path>.json`. */
export function readReference<T>(path: string): T {
  return JSON.parse(readFileSync(join(root, 'data/reference', `${path}.json`), 'utf8')) as T;
}

/** Folder of the open data sets that are not part of the project; `undefined` where the environment names none. */
export const openDataFolder: string | undefined = process.env.MELTBOOK_REFERENCE_DATA
  ? join(process.env.MELTBOOK_REFERENCE_DATA, 'open-data')
  : undefined;

/** Any value of a JSON file. */
export type Json = null | boolean | number | string | readonly Json[] | { readonly [key: string]: Json };
/** An object of a JSON file. */
export type JsonObject = { readonly [key: string]: Json };

/** A data set with the reference results computed from it. */
export interface ReferenceSet {
  readonly name: string;
  readonly results: JsonObject;
  /** A column as text. */
  text(column: string): string[];
  /** A column as numbers; every cell must hold one. */
  numbers(column: string): number[];
}

/** Reads a classical data set kept in data/reference/classical. */
export function classicalSet(name: string): ReferenceSet {
  const file = readReference<{
    columns: Record<string, (string | number)[]>;
    reference: { results: JsonObject };
  }>(`classical/${name}`);
  return referenceSet(name, file.reference.results, (column) => file.columns[column]?.map(String));
}

/** Names of all classical data sets. */
export function classicalSetNames(): string[] {
  return readdirSync(join(root, 'data/reference/classical'))
    .filter((file) => file.endsWith('.json'))
    .map((file) => file.replace(/\.json$/, ''));
}

/** Reads a data set of the open-data folder: comma, header row, quotes only around a whole cell, empty cell = ''. */
export function openSet(name: string): ReferenceSet {
  if (!openDataFolder) throw new Error('MELTBOOK_REFERENCE_DATA is not set');
  const lines = readFileSync(join(openDataFolder, `${name}.csv`), 'utf8')
    .trim()
    .split(/\r?\n/);
  const rows = lines.map((line) => line.split(',').map((cell) => cell.replace(/^"(.*)"$/, '$1')));
  const expected = readFileSync(join(openDataFolder, `${name}.expected.json`), 'utf8');
  return referenceSet(name, (JSON.parse(expected) as { results: JsonObject }).results, (column) => {
    const place = rows[0]!.indexOf(column);
    return place < 0 ? undefined : rows.slice(1).map((row) => row[place]!);
  });
}

function referenceSet(
  name: string,
  results: JsonObject,
  column: (name: string) => string[] | undefined,
): ReferenceSet {
  const text = (wanted: string): string[] => {
    const cells = column(wanted);
    if (!cells) throw new Error(`${name} has no column ${wanted}`);
    return cells;
  };
  const numbers = (wanted: string): number[] =>
    text(wanted).map((cell, i) => {
      if (cell === '' || !Number.isFinite(Number(cell))) {
        throw new Error(`${name}, ${wanted}, row ${i + 1}: found "${cell}"`);
      }
      return Number(cell);
    });
  return { name, results, text, numbers };
}

/** The block of a result file at a path of keys. */
export function blockAt(results: Json, ...path: readonly (string | number)[]): JsonObject {
  let found: Json = results;
  for (const key of path) {
    found = (found as { readonly [key: string]: Json })[key] ?? null;
    if (found === null || typeof found !== 'object') throw new Error(`no block at ${path.join(' / ')}`);
  }
  return found as JsonObject;
}

/** Numbers of one column split by the text of another, groups in order of first appearance. */
export function grouped(values: readonly number[], keys: readonly string[]): number[][] {
  const groups = new Map<string, number[]>();
  values.forEach((value, i) => {
    const group = groups.get(keys[i]!) ?? [];
    group.push(value);
    groups.set(keys[i]!, group);
  });
  return [...groups.values()];
}
