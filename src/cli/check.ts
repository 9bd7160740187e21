import { describeIssue } from '../errors.js';
import { checkStudy, type StudyCheck } from '../records/read-study.js';
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
      for (const line of linesOf(result)) terminal.out(line);
    }
    return result.issues.length === 0 ? 0 : 3;
  },
};

/** Files, what is left undecided, and the problems last, where the eye falls first. */
function linesOf({ tables, unreadTables, notStudied, leftOpen, issues, moreToCheck }: StudyCheck): string[] {
  const unread = new Set(unreadTables.map((table) => `${table}.csv`));
  const rows = (file: string, n: number | null) =>
    unread.has(file) ? `${file}: rows not read, see below` : n === null ? file : `${file}: ${n} row(s)`;
  const waiting =
    'What hangs on a file, key or row named above is checked once that is mended: run the check again.';
  return [
    ...tables.map(({ file, rows: n }) => rows(file, n)),
    ...notStudied.map(({ table, consequence }) => `${table} has no rows; not studied: ${consequence}`),
    ...leftOpen.map(
      ({ file, row, found, consequence }) =>
        `${file}${row === null ? '' : `, row ${row}`}: ${found}; ${consequence}`,
    ),
    ...issues.map(describeIssue),
    ...(issues.length > 0 && moreToCheck ? [waiting] : []),
    issues.length === 0 ? 'No problem found.' : `${issues.length} problem(s) found.`,
  ];
}
