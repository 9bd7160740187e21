// Ratios of the records layer to pandas reading the same file, in one interleaved run of fresh processes.
// usage: npm run build && node tests/bench/records.bench.mjs [rounds=5]
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, statSync } from 'node:fs';
import { createRequire } from 'node:module';
import { loadavg, tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { writeYear } from './write-year.mjs';

const self = fileURLToPath(import.meta.url);
const require = createRequire(import.meta.url);
const load = (path) => require(join(dirname(self), '../../dist', path));
const median = (list) => [...list].sort((a, b) => a - b)[Math.floor(list.length / 2)];
const cpuMs = () => process.cpuUsage().user / 1000 + process.cpuUsage().system / 1000;
const peakMB = () => Math.round(process.resourceUsage().maxRSS / 1024);

const pandas = `
import pandas, resource, sys, time
start, cpu = time.perf_counter(), time.process_time()
rows = len(pandas.read_csv(sys.argv[1]))
ms = 1e3 * (time.perf_counter() - start)
cpu = 1e3 * (time.process_time() - cpu)
print('{"ms": %f, "cpuMs": %f, "rows": %d, "peakMB": %d}' % (ms, cpu, rows, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024))
`;

/** Each is run in a process of its own and prints one line of JSON. */
const jobs = { typed: typedOnce, year: yearOnce, budgets: budgetsOnce };

const [, , first = '5', folder] = process.argv;
if (first in jobs) console.log(JSON.stringify(await jobs[first](folder)));
else await compare(Number(first));

async function typedOnce(study) {
  const { readTypedRows } = load('records/csv/read-typed-rows.js');
  const { readingTable } = load('records/tables/readings.js');
  const { IssueList } = load('records/issue-list.js');
  const [start, cpu] = [performance.now(), cpuMs()];
  const issues = new IssueList();
  const path = join(study, 'readings.csv');
  const reading = { table: readingTable, path, file: 'readings.csv', decimalMark: null, issues };
  const { rows } = await readTypedRows(reading);
  const ms = performance.now() - start;
  return { ms, cpuMs: cpuMs() - cpu, rows: rows.count, issues: issues.all().length, peakMB: peakMB() };
}

async function yearOnce(study) {
  const { streamStudy } = load('records/stream-study.js');
  const { streamResults } = load('studies/result-stream/stream-results.js');
  const [start, cpu] = [performance.now(), cpuMs()];
  const { records, runs } = await streamStudy(study);
  const history = [];
  let [results, runCount] = [0, 0];
  for await (const run of streamResults(records, runs())) {
    runCount++;
    for (const u of run.figures.standardUncertainties) if (u > 0) results++;
    history.push(...run.control);
  }
  return {
    ms: performance.now() - start,
    cpuMs: cpuMs() - cpu,
    runs: runCount,
    results,
    history: history.length,
    peakMB: peakMB(),
  };
}

/** Files to results, each with a model of its own and all its sensitivities: what a report of budgets needs. */
async function budgetsOnce(study) {
  const { readStudy } = load('records/read-study.js');
  const { evaluateStudy } = load('studies/evaluate-study.js');
  const { resultModel } = load('chain/result-model.js');
  const { propagate } = load('uncertainty/propagate.js');
  const start = performance.now();
  const { results } = evaluateStudy(await readStudy(study));
  let budgets = 0;
  for (const { value, observation } of results) {
    if (value === null) continue;
    const { model, inputs, correlations } = resultModel(observation, {
      route: 'components',
      unexplained: null,
    });
    if (propagate(model, inputs, correlations).outputs[0].standardUncertainty > 0) budgets++;
  }
  return { ms: performance.now() - start, results: budgets, peakMB: peakMB() };
}

function ours(job, study) {
  const start = performance.now();
  const found = JSON.parse(execFileSync(process.execPath, [self, job, study], { encoding: 'utf8' }));
  return { ...found, wholeMs: performance.now() - start };
}

function theirs(study) {
  try {
    const path = join(study, 'readings.csv');
    return JSON.parse(
      execFileSync('/usr/bin/python3', ['-c', pandas, path], { encoding: 'utf8', stdio: 'pipe' }),
    );
  } catch {
    return null;
  }
}

async function compare(rounds) {
  const scratch = mkdtempSync(join(tmpdir(), 'meltbook-bench-'));
  try {
    const [year, day] = [join(scratch, 'year'), join(scratch, 'day')];
    writeYear(year);
    writeYear(day, { runs: 1, samples: 40 });
    console.log(
      `readings of a year: ${(statSync(join(year, 'readings.csv')).size / 1e6).toFixed(0)} MB, 9 columns; load ${loadavg()[0].toFixed(1)}`,
    );
    if (theirs(day) === null) {
      console.log(
        'pandas is absent (/usr/bin/python3 -c "import pandas"): ratios to it are not measured, the rest is',
      );
    }
    const found = Array.from({ length: rounds }, () => ({
      pandas: theirs(year),
      typed: ours('typed', year),
      year: ours('year', year),
      day: ours('year', day),
      budgets: ours('budgets', day),
    }));
    report(found);
  } finally {
    rmSync(scratch, { recursive: true, force: true });
  }
}

function report(found) {
  const [{ typed, year, day, budgets, pandas: reader }] = found;
  const ms = (job, key = 'ms') => median(found.map((round) => round[job][key]));
  const ratio = (job) =>
    reader === null ? null : median(found.map((round) => round[job].ms / round.pandas.ms));
  const cpuLine = (job) => {
    const share = median(found.map((round) => round[job].cpuMs / (round.pandas?.cpuMs ?? Number.NaN)));
    line('  ratio of CPU time', Number.isNaN(share) ? 'not measured' : share.toPrecision(3), 'all threads');
  };
  const peak = (job) => Math.max(...found.map((round) => round[job].peakMB));
  if (reader !== null) {
    line(
      'pandas, read_csv',
      `${ms('pandas').toFixed(0)} ms, peak ${peak('pandas')} MB`,
      `${reader.rows} rows`,
    );
  }
  line('typed columns', `${ms('typed').toFixed(0)} ms`, `${typed.rows} rows, ${typed.issues} issues`);
  judge('  ratio to pandas', ratio('typed'), 0.8, '');
  cpuLine('typed');
  judge('  peak memory', peak('typed'), 150, ' MB');
  line(
    'year to results',
    `${ms('year').toFixed(0)} ms`,
    `${year.runs} runs, ${year.results} results, ${year.history} control results`,
  );
  judge('  ratio to pandas', ratio('year'), 2, '');
  cpuLine('year');
  judge('  peak memory', peak('year'), 250, ' MB');
  line('day, 40 samples', `${ms('day').toFixed(0)} ms`, `${day.results} results with standard uncertainties`);
  judge('  whole process', ms('day', 'wholeMs') / 1000, 5, ' s');
  line(
    'day, with budgets',
    `${ms('budgets').toFixed(0)} ms`,
    `${budgets.results} results, each with all its sensitivities`,
  );
  judge('  whole process', ms('budgets', 'wholeMs') / 1000, 5, ' s');
}

function line(what, measured, note) {
  console.log(`${what.padEnd(20)} ${measured.padEnd(26)} ${note}`);
}

function judge(what, measured, must, unit) {
  const text = measured === null ? 'not measured' : `${measured.toPrecision(3)}${unit}`;
  const verdict = measured === null ? '' : measured <= must ? 'met' : 'MISSED';
  console.log(`${what.padEnd(20)} ${text.padEnd(26)} must be at most ${must}${unit} ${verdict}`);
}
