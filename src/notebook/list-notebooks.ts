import { readdir } from 'node:fs/promises';
import { basename, join, resolve } from 'node:path';
import { InputError } from '../errors.js';
import { parametersOf } from './format/parameter-declarations.js';
import { readNotebook } from './format/read-notebook.js';
import { projectRoot } from './project-root.js';

/** Parameters that are set for every notebook: which study (`planFolder` where only its plan is read), and where its report goes. */
export const ownParameters = ['studyFolder', 'planFolder', 'outputFolder'] as const;

/** A notebook of the project: its job, and what may be set besides study and output. */
export interface ListedNotebook {
  readonly name: string;
  readonly job: string;
  readonly parameters: readonly { readonly name: string; readonly value: string }[];
}

/** The notebooks of the project, in order. */
export async function listNotebooks(): Promise<ListedNotebook[]> {
  const names = await notebookNames();
  return Promise.all(
    names.map(async (name) => {
      const notebook = await readNotebook(join(projectRoot(), 'notebooks', `${name}.ipynb`));
      const heading = /^# (.+)$/m.exec(notebook.cells[0]?.source ?? '');
      const own: readonly string[] = ownParameters;
      return {
        name,
        job: heading?.[1] ?? '',
        parameters: parametersOf(notebook)
          .filter((p) => !own.includes(p.name))
          .map((p) => ({ name: p.name, value: JSON.stringify(p.value) })),
      };
    }),
  );
}

/**
 * Path of a notebook by its name, its number (`50`) or a path.
 *
 * @throws InputError a name that no notebook of the project bears, with those there are
 */
export async function notebookPath(wanted: string): Promise<string> {
  if (/[\\/]/.test(wanted)) return resolve(wanted);
  const names = await notebookNames();
  const name = basename(wanted, '.ipynb');
  const found = names.includes(name) ? [name] : names.filter((each) => each.split('-')[0] === name);
  if (found.length !== 1)
    throw new InputError(`notebook: found "${wanted}", expected one of: ${names.join(', ')}, or a path`);
  return join(projectRoot(), 'notebooks', `${found[0]!}.ipynb`);
}

async function notebookNames(): Promise<string[]> {
  const files = await readdir(join(projectRoot(), 'notebooks'));
  return files
    .filter((file) => file.endsWith('.ipynb'))
    .map((file) => basename(file, '.ipynb'))
    .sort();
}
