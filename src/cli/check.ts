import { describeIssue } from '../errors.js';
import { checkStudy } from '../records/read-study.js';
import { type Command, parseArguments } from './command.js';

const usage = 'check <study folder> [--json]';

/** Lists every problem in a study's records; exit code 3 while one stands. */
export const check: Command = {
  name: 'check',
  usage,
  summary: 'Reads all tables of a study, lists every problem with file, row, column, found and expected.',
  async run(args, terminal) {
    const parsed = parseArguments(args, { json: { type: 'boolean' } }, 1, usage);
    const result = await checkStudy(parsed.positionals[0]!);
    if (parsed.values.json === true) {
      terminal.out(JSON.stringify(result, null, 2));
    } else {
      for (const { file, rows } of result.tables)
        terminal.out(rows === null ? file : `${file}: ${rows} row(s)`);
      for (const { table, consequence } of result.notStudied)
        terminal.out(`${table} has no rows; not studied: ${consequence}`);
      for (const issue of result.issues) terminal.out(describeIssue(issue));
      terminal.out(
        result.issues.length === 0 ? 'No problem found.' : `${result.issues.length} problem(s) found.`,
      );
    }
    return result.issues.length === 0 ? 0 : 3;
  },
};
