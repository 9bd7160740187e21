import { budgetOfFile } from '../notebook/budget-of-file.js';
import { measurementText } from '../report/budget/measurement-text.js';
import { exactJson } from '../report/exact-json.js';
import { type Command, parseArguments, textOption } from './command.js';

const usage = 'budget <file> [--output <name>] [--json] [--out <folder>]';

/** Evaluates a budget file; exit code 3 where the file does not pass its check. */
export const budget: Command = {
  name: 'budget',
  usage,
  summary:
    'Evaluates a budget file and prints the budget, the result and what it would take to meet the target.',
  async run(args, terminal) {
    const parsed = parseArguments(
      args,
      { output: { type: 'string' }, json: { type: 'boolean' }, out: { type: 'string' } },
      1,
      usage,
    );
    const [output, out] = [textOption(parsed, 'output', ''), textOption(parsed, 'out', '')];
    const { evaluation, report } = await budgetOfFile(parsed.positionals[0]!, {
      ...(output === '' ? {} : { output }),
      ...(out === '' ? {} : { out }),
    });
    if (parsed.values.json === true) terminal.out(exactJson(evaluation, 'evaluation'));
    else for (const line of measurementText(evaluation)) terminal.out(line);
    if (report !== null) terminal.err(`Report: ${report}`);
    return 0;
  },
};
