import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';

/** A file of published figures: its path below the folder, and its content before any check. */
export interface PublishedFile {
  readonly path: string;
  readonly content: unknown;
}

/** The JSON files of the named sub-folders of `data/reference`, in order of their names. */
export async function readPublishedFiles(
  folder: string,
  topics: readonly string[],
): Promise<PublishedFile[]> {
  const files: PublishedFile[] = [];
  for (const topic of topics) {
    for (const name of (await readdir(join(folder, topic))).filter((n) => n.endsWith('.json')).sort()) {
      const content: unknown = JSON.parse(await readFile(join(folder, topic, name), 'utf8'));
      files.push({ path: `${topic}/${name}`, content });
    }
  }
  return files;
}
