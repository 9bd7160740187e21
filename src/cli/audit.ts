import { stat } from 'node:fs/promises';
import { join } from 'node:path';
import { InputError } from '../errors.js';
import { projectRoot } from '../notebook/project-root.js';
import { audit as auditReports } from '../report/issue/audit.js';
import { type Command, parseArguments, textOption } from './command.js';

const usage = 'audit [--reports <folder>] [--json]';

/** Verifies every issue and the ledger; exit code 5 where one does not hold. */
export const audit: Command = {
  name: 'audit',
  usage,
  summary: 'Compares every issued file with its manifest and the ledger, and names each that was altered.',
  help: async () => [
    '',
    '--reports <folder>  of the issued reports; reports/ of this tool where it is left out',
    '--json              prints the whole outcome as JSON',
  ],
  async run(args, terminal) {
    const parsed = parseArguments(args, { json: { type: 'boolean' }, reports: { type: 'string' } }, 0, usage);
    const folder = textOption(parsed, 'reports', join(projectRoot(), 'reports'));
    await requireFolder(folder);
    const result = await auditReports(folder);
    if (parsed.values.json === true) {
      terminal.out(JSON.stringify(result, null, 2));
    } else {
      for (const p of result.problems) terminal.out(`${p.place}: found ${p.found}; expected ${p.expected}`);
      for (const place of result.unissued) terminal.out(`${place}: not issued, no evidence`);
      terminal.out(
        result.problems.length > 0
          ? `${result.problems.length} problem(s) in ${result.issues} issue(s).`
          : result.issues === 0
            ? `Nothing has been issued in ${folder}: there is no ledger and nothing to verify.`
            : `All ${result.issues} issue(s) are as they were written; note the head of the ledger elsewhere: ${result.head}`,
      );
    }
    return result.problems.length === 0 ? 0 : 5;
  },
};

async function requireFolder(folder: string): Promise<void> {
  const found = await stat(folder).catch(() => null);
  if (found === null || !found.isDirectory())
    throw new InputError(`reports: found no folder ${folder}, expected the folder of the issued reports`);
}
