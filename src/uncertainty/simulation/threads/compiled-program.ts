import { dirname, join, sep } from 'node:path';

/**
 * The compiled program of a thread beside the file that starts it; where that file is read as TypeScript, the one of the
 * build.
 *
 * @param file path of the starting file
 * @param program name of the program's file
 * @example
 * compiledProgram('/a/dist/records/read.js', 'thread.js') // => '/a/dist/records/thread.js'
 * @example
 * compiledProgram('/a/src/records/read.ts', 'thread.js') // => '/a/dist/records/thread.js'
 */
export function compiledProgram(file: string, program: string): string {
  const folder = dirname(file);
  if (!file.endsWith('.ts')) return join(folder, program);
  const source = `${sep}src${sep}`;
  const at = folder.lastIndexOf(source);
  return join(folder.slice(0, at), 'dist', folder.slice(at + source.length), program);
}
