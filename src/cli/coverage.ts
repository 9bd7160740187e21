import { coverageText, errorRateText } from '../coverage/coverage-text.js';
import { errorRates } from '../coverage/error-rates/error-rates.js';
import { repeatScenario } from '../coverage/repeat-scenario.js';
import { type Command, integerOption, parseArguments } from './command.js';

const usage =
  'coverage [--seeds <number>] [--first <seed>] [--without-overlap] [--all-calcium-blanks] [--error-rates] [--json]';

/** Repeats the invented study; exit code 5 where fewer than 95 % of the seeds show what was planted, or an interval or error rate does not hold. */
export const coverage: Command = {
  name: 'coverage',
  usage,
  summary:
    'Makes the invented study over many seeds, validates each, and prints how often verdicts and intervals are right.',
  help: async () => [
    '',
    '--seeds <number>          invented studies to make (200; 500 with --error-rates)',
    '--first <seed>            the first of them (1); the others follow',
    '--without-overlap         leaves the planted overlap of Zr on Al out; kept where not given',
    '--all-calcium-blanks      leaves all 12 blanks of Ca usable; 4 where not given',
    '--error-rates             counts wrong decisions of experiments whose truth is known, in place of that',
    '--json                    prints all counts as JSON',
  ],
  async run(args, terminal) {
    const parsed = parseArguments(
      args,
      {
        seeds: { type: 'string' },
        first: { type: 'string' },
        'without-overlap': { type: 'boolean' },
        'all-calcium-blanks': { type: 'boolean' },
        'error-rates': { type: 'boolean' },
        json: { type: 'boolean' },
      },
      0,
      usage,
    );
    const json = parsed.values.json === true;
    if (parsed.values['error-rates'] === true) {
      const rates = errorRates(integerOption(parsed, 'first', 1, 0), integerOption(parsed, 'seeds', 500));
      for (const line of json ? [JSON.stringify(rates, null, 2)] : errorRateText(rates)) terminal.out(line);
      return rates.every((rate) => rate.holds) ? 0 : 5;
    }
    const result = repeatScenario({
      firstSeed: integerOption(parsed, 'first', 1, 0),
      seeds: integerOption(parsed, 'seeds', 200),
      overlap: parsed.values['without-overlap'] !== true,
      calciumBlanksUsable: parsed.values['all-calcium-blanks'] === true ? 12 : 4,
      onSeed: (done, of) => {
        if (!json && done % 10 === 0) terminal.err(`seed ${done} of ${of}`);
      },
    });
    if (json) terminal.out(JSON.stringify(result, null, 2));
    else for (const line of coverageText(result)) terminal.out(line);
    const intervals = result.intervals.filter((i) => !i.quantity.includes('without'));
    const cover = intervals.every((i) => i.covered >= i.believed.low && i.covered <= i.believed.high);
    return cover && result.allAsExpected >= 0.95 * result.seeds ? 0 : 5;
  },
};
