import type { ErrorRate } from '../coverage/error-rates/error-rate.js';
import { errorRates } from '../coverage/error-rates/error-rates.js';
import { type RepeatedScenario, repeatScenario } from '../coverage/repeat-scenario.js';
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
    '--without-overlap         leaves the planted overlap of Zr on Al out',
    '--all-calcium-blanks      leaves all 12 blanks of Ca usable',
    '--error-rates             counts wrong decisions of experiments whose truth is known, instead',
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
      for (const line of json ? [JSON.stringify(rates, null, 2)] : rateLines(rates)) terminal.out(line);
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
    else for (const line of lines(result)) terminal.out(line);
    const intervals = result.intervals.filter((i) => !i.quantity.includes('without'));
    const cover = intervals.every((i) => i.covered >= i.believed.low && i.covered <= i.believed.high);
    return cover && result.allAsExpected >= 0.95 * result.seeds ? 0 : 5;
  },
};

function lines({ seeds, allAsExpected, verdicts, intervals }: RepeatedScenario): string[] {
  const planted = verdicts.filter((v) => v.expected !== 'met');
  const met = verdicts.filter((v) => v.expected === 'met');
  const missed = met.filter((v) => v.asExpected < seeds);
  const row = (v: (typeof verdicts)[number]) =>
    `  ${v.expected.padEnd(10)} ${String(v.asExpected).padStart(5)} of ${seeds}  ${v.finding}${others(v.otherwise)}`;
  return [
    'Planted verdicts other than met:',
    ...planted.map(row),
    `Findings planted as met: ${met.length}, of which ${met.length - missed.length} were met in every seed`,
    ...missed.map(row),
    `All findings as planted in ${allAsExpected} of ${seeds} seeds (wanted: at least ${Math.ceil(0.95 * seeds)})`,
    'Planted: what the generator put into the study, so that the right verdict is known. Believed: counts that true 95 % give in 99.9 % of such tries. The last number: median half-width ÷ that of somebody who knows the true variance; above 1 too wide. Without covariances: the same total as if its results shared no error, to show what leaving that out does.',
    '95 % intervals that hold the true value; median half-width against an oracle who knows the variance (wanted: at most 1.15):',
    ...intervals.map(
      (i) =>
        `  ${i.quantity.padEnd(26)} ${i.route.padEnd(11)} ${String(i.covered).padStart(4)} of ${i.of} (${((100 * i.covered) / i.of).toFixed(1)} %), believed ${i.believed.low} to ${i.believed.high}; ${i.widthAgainstOracle.toFixed(3)}`,
    ),
  ];
}

function others(otherwise: Readonly<Record<string, number>>): string {
  const list = Object.entries(otherwise).map(([verdict, n]) => `${verdict} ${n}`);
  return list.length === 0 ? '' : ` (${list.join(', ')})`;
}

function rateLines(rates: readonly ErrorRate[]): string[] {
  const row = ({ about, count, of, believed, holds }: ErrorRate) =>
    `  ${holds ? 'holds     ' : 'DOES NOT  '} ${String(count).padStart(5)} of ${of}, wanted ${`${believed.low} to ${believed.high}`.padEnd(10)}  ${about}`;
  return [
    'How often in invented experiments whose truth is known (counts believed at 99.9 %; an approximate interval may cover 93 to 98 %):',
    ...rates.map(row),
    `${rates.filter((r) => r.holds).length} of ${rates.length} rates hold`,
  ];
}
