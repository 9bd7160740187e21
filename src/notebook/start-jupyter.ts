import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdir } from 'node:fs/promises';
import { delimiter, dirname, join } from 'node:path';
import { MeltbookError } from '../errors.js';
import { findProgram } from './find-program.js';
import { projectRoot } from './project-root.js';

const advice = `Jupyter is not installed. It is needed only to open the notebooks in a browser.
Debian, Ubuntu:  sudo apt install jupyter-notebook
elsewhere:       python3 -m pip install notebook
then again:      npm run notebooks`;

/**
 * Opens Jupyter on this project with the project's own TypeScript kernel, for this machine only (127.0.0.1).
 * Nothing outside the project's folder is written: settings and run-time files go to `.jupyter/`.
 *
 * @param args further arguments for Jupyter, such as `--no-browser`
 * @param env environment; Jupyter is looked for on its PATH
 * @param root folder that Jupyter shows, the project's own unless given
 * @returns exit code of Jupyter
 * @throws MeltbookError (exit code 6) Jupyter is not installed; the message says how to get it
 */
export async function startJupyter(
  args: readonly string[],
  env: NodeJS.ProcessEnv,
  root: string = projectRoot(),
): Promise<number> {
  const program = await findProgram(['jupyter-notebook', 'jupyter-lab'], env.PATH ?? '');
  if (!program) throw new MeltbookError(advice, 6);
  const settings = jupyterSettings(root);
  // Kept from other users: the file of the running server holds its token.
  for (const folder of Object.values(settings)) await mkdir(folder, { recursive: true, mode: 0o700 });
  const asRoot = process.getuid?.() === 0 ? ['--allow-root'] : [];
  const child = spawn(program, ['--ip=127.0.0.1', ...asRoot, ...args], {
    cwd: root,
    // The kernel is started as `node`: the one that runs this.
    env: { ...env, ...settings, PATH: [dirname(process.execPath), env.PATH].join(delimiter) },
    stdio: 'inherit',
  });
  // Jupyter asks back on an interrupt: it decides when to end.
  const wait = () => undefined;
  process.on('SIGINT', wait);
  try {
    const [code] = (await once(child, 'exit')) as [number | null];
    return code ?? 4;
  } finally {
    process.off('SIGINT', wait);
  }
}

/**
 * Variables by which Jupyter finds the project's kernel and keeps its own files inside the project. The paths are
 * absolute: from a relative one Jupyter lists the kernel and cannot start it.
 *
 * @example
 * jupyterSettings('/project').JUPYTER_PATH // => '/project/.jupyter'
 */
export function jupyterSettings(root: string): Readonly<Record<string, string>> {
  const folder = join(root, '.jupyter');
  return {
    JUPYTER_PATH: folder,
    JUPYTER_CONFIG_DIR: join(folder, 'config'),
    JUPYTER_DATA_DIR: join(folder, 'data'),
    JUPYTER_RUNTIME_DIR: join(folder, 'runtime'),
  };
}

if (require.main === module) {
  startJupyter(process.argv.slice(2), process.env).then(
    (code) => {
      process.exitCode = code;
    },
    (error: Error) => {
      process.stderr.write(`${error.message}\n`);
      process.exitCode = error instanceof MeltbookError ? error.exitCode : 1;
    },
  );
}
