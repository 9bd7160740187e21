import { budgetOfFile, type EvaluatedBudgetFile } from '../notebook/budget-of-file.js';
import { measurementText } from '../report/budget/measurement-text.js';
import { exactJson } from '../report/exact-json.js';
import type { MeasurementSimulation } from '../studies/measurement/evaluate-measurement.js';
import {
  type Arguments,
  type Command,
  integerOption,
  parseArguments,
  textOption,
  UsageError,
} from './command.js';

const usage =
  'budget <file> [--output <name>] [--trials <number> | --digits <1|2|3>] [--seed <number>] [--workers <number>] [--json] [--out <new folder>]';

/** Evaluates a budget file; exit code 3 where the file does not pass its check. */
export const budget: Command = {
  name: 'budget',
  usage,
  summary:
    'Evaluates a budget file by the law of propagation and by simulation; prints the budget, the result, whether the two ' +
    'agree, and what it would take to meet the target. --digits goes on until so many digits of u are stable.',
  help: async () => [
    '',
    '--output <name>     output quantity to report, where the file has several; the first where it is left out',
    '--trials <number>   trials of the simulation (1000000)',
    '--digits <1|2|3>    in place of --trials: goes on until so many digits of u are stable',
    '--seed <number>     of the random numbers (1): the same seed gives the same bits',
    '--workers <number>  threads (1); they change no figure',
    '--json              prints the whole evaluation at full precision',
    '--out <new folder>  writes report (HTML), JSON and CSV there, whole or not at all',
  ],
  async run(args, terminal) {
    const text = { type: 'string' } as const;
    const parsed = parseArguments(
      args,
      {
        output: text,
        trials: text,
        digits: text,
        seed: text,
        workers: text,
        json: { type: 'boolean' },
        out: text,
      },
      1,
      usage,
    );
    const [output, out] = [textOption(parsed, 'output', ''), textOption(parsed, 'out', '')];
    const evaluated = await budgetOfFile(parsed.positionals[0]!, {
      simulation: simulationOf(parsed),
      ...(output === '' ? {} : { output }),
      ...(out === '' ? {} : { out }),
    });
    if (parsed.values.json === true) terminal.out(exactJson(evaluated.evaluation, 'evaluation'));
    else for (const line of lines(evaluated)) terminal.out(line);
    if (evaluated.report !== null) terminal.err(`Report: ${evaluated.report}`);
    return 0;
  },
};

function lines({ evaluation, remark }: EvaluatedBudgetFile): string[] {
  const [title = '', ...rest] = measurementText(evaluation);
  return [title, ...(remark === '' ? [] : [remark]), ...rest];
}

/** @throws UsageError a fixed number of trials and a number of digits at once */
function simulationOf(parsed: Arguments): MeasurementSimulation {
  const { trials, digits } = parsed.values;
  if (trials !== undefined && digits !== undefined)
    throw new UsageError(`found --trials and --digits, expected one of the two\nusage: meltbook ${usage}`);
  const run = { seed: integerOption(parsed, 'seed', 1, 0), workers: integerOption(parsed, 'workers', 1) };
  if (digits === undefined) return { ...run, trials: integerOption(parsed, 'trials', 1_000_000) };
  return {
    ...run,
    adaptive: { digits: integerOption(parsed, 'digits', 2) as 1 | 2 | 3, interval: 'symmetric' },
  };
}
