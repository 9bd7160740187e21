import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

const folder = join(__dirname, '..', '..', 'data', 'reference');

/** Names of all files of check values in one folder of `data/reference`, the folder included. */
export function referenceNames(topic: string): string[] {
  return readdirSync(join(folder, topic)).flatMap((name) =>
    name.endsWith('.json') ? [`${topic}/${name.slice(0, -5)}`] : [],
  );
}

/** A file of check values from `data/reference`, as the type its test states. */
export function reference<T>(name: string): T {
  return JSON.parse(readFileSync(join(folder, `${name}.json`), 'utf8')) as T;
}
