import { readFileSync } from 'node:fs';
import { join } from 'node:path';

/** A file of check values from `data/reference`, as the type its test states. */
export function reference<T>(name: string): T {
  const path = join(__dirname, '..', '..', 'data', 'reference', `${name}.json`);
  return JSON.parse(readFileSync(path, 'utf8')) as T;
}
