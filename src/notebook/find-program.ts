import { access, constants } from 'node:fs/promises';
import { delimiter, join } from 'node:path';

/**
 * Path of the first installed program of several names, `null` where there is none.
 *
 * @param names tried in this order, each in all folders
 * @param searchPath folders to look in, as in the environment variable PATH
 */
export async function findProgram(names: readonly string[], searchPath: string): Promise<string | null> {
  for (const name of names) {
    for (const folder of searchPath.split(delimiter).filter((entry) => entry !== '')) {
      const path = join(folder, name);
      const found = await access(path, constants.X_OK).then(
        () => true,
        () => false,
      );
      if (found) return path;
    }
  }
  return null;
}
