import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { MeltbookError } from '../errors.js';

/**
 * The folder of this project: the nearest one above this file that holds a `package.json`.
 *
 * @throws MeltbookError there is none
 */
export function projectRoot(): string {
  for (let folder = __dirname; folder !== dirname(folder); folder = dirname(folder)) {
    if (existsSync(join(folder, 'package.json'))) return folder;
  }
  throw new MeltbookError(`no package.json above ${__dirname}`, 4);
}
