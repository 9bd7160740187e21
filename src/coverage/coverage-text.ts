import type { ErrorRate } from './error-rates/error-rate.js';
import type { RepeatedScenario, VerdictCount } from './repeat-scenario.js';

/** What the words and numbers of the lines above it mean. */
const legend = [
  'planted: put into the invented study by its generator, so that the right verdict is known.',
  'believed: so many intervals hold the true value in 99.9 % of tries where each does so with 95 %.',
  'the number behind it: median half-width ÷ that of an oracle, who knows the true variance; above 1 is wider than need be.',
  'without covariances: the same total as if its results shared no error; it shows what leaving that out does, and is not judged.',
];

/** Verdicts and intervals of many invented studies as lines of text for a terminal; what their words mean comes last. */
export function coverageText({ seeds, allAsExpected, verdicts, intervals }: RepeatedScenario): string[] {
  const planted = verdicts.filter((v) => v.expected !== 'met');
  const met = verdicts.filter((v) => v.expected === 'met');
  const missed = met.filter((v) => v.asExpected < seeds);
  const row = (v: VerdictCount) =>
    `  ${v.expected.padEnd(10)} ${String(v.asExpected).padStart(5)} of ${seeds}  ${v.finding}${others(v.otherwise)}`;
  return [
    'Planted verdicts other than met:',
    ...planted.map(row),
    `Findings planted as met: ${met.length}, of which ${met.length - missed.length} were met in every seed`,
    ...missed.map(row),
    `All findings as planted in ${allAsExpected} of ${seeds} seeds (wanted: at least ${Math.ceil(0.95 * seeds)})`,
    '95 % intervals that hold the true value; median half-width against an oracle who knows the variance (wanted: at most 1.15):',
    ...intervals.map(
      (i) =>
        `  ${i.quantity.padEnd(26)} ${i.route.padEnd(11)} ${String(i.covered).padStart(4)} of ${i.of} (${((100 * i.covered) / i.of).toFixed(1)} %), believed ${i.believed.low} to ${i.believed.high}; ${i.widthAgainstOracle.toFixed(3)}`,
    ),
    'What the words mean:',
    ...legend.map((line) => `  ${line}`),
  ];
}

function others(otherwise: VerdictCount['otherwise']): string {
  const list = Object.entries(otherwise).map(([verdict, n]) => `${verdict} ${n}`);
  return list.length === 0 ? '' : ` (${list.join(', ')})`;
}

/** How often decisions of invented experiments were wrong, as lines of text for a terminal. */
export function errorRateText(rates: readonly ErrorRate[]): string[] {
  const row = ({ about, count, of, believed, holds }: ErrorRate) =>
    `  ${holds ? 'holds     ' : 'DOES NOT  '} ${String(count).padStart(5)} of ${of}, wanted ${`${believed.low} to ${believed.high}`.padEnd(10)}  ${about}`;
  return [
    'How often in invented experiments whose truth is known (counts believed at 99.9 %; an approximate interval may cover 93 to 98 %):',
    ...rates.map(row),
    `${rates.filter((r) => r.holds).length} of ${rates.length} rates hold`,
  ];
}
