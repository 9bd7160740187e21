// Ratios of the statistics layer to general-purpose programs, each pair in one run. usage: npm run build && node tests/bench/statistics.bench.mjs
// MELTBOOK_BENCH names the folder of the reference programs (reml/, csv/). R with lme4 and Python with pandas are optional.
import { execFileSync } from 'node:child_process';
import { createReadStream, existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const self = fileURLToPath(import.meta.url);
const require = createRequire(import.meta.url);
const load = (path) => require(join(dirname(self), '../../dist/statistics/analysis-of-variance', path));
const folder = process.env.MELTBOOK_BENCH;
const median = (list) => [...list].sort((a, b) => a - b)[Math.floor(list.length / 2)];

if (!folder || !existsSync(folder)) {
  console.log('skipped: MELTBOOK_BENCH does not name the folder of the reference programs');
} else if (process.argv[2] === 'reml') {
  console.log(JSON.stringify(remlOnce()));
} else {
  const scratch = mkdtempSync(join(tmpdir(), 'meltbook-bench-'));
  try {
    compareReml(scratch);
    await compareAnova(scratch);
  } finally {
    rmSync(scratch, { recursive: true, force: true });
  }
}

function run(command, args, options = {}) {
  try {
    return execFileSync(command, args, { encoding: 'utf8', ...options });
  } catch (error) {
    console.log(`not measured: ${command} ${args[0]}: ${String(error.message).split('\n')[0]}`);
    return null;
  }
}

function line(what, ours, theirs, unit, ratio, goal) {
  const other = theirs === null ? '-' : `${theirs.toPrecision(3)} ${unit}`;
  const share = ratio === null ? 'not measured' : ratio.toFixed(4);
  console.log(
    `${what.padEnd(34)} ${`${ours.toPrecision(3)} ${unit}`.padEnd(16)} ${other.padEnd(16)} ratio ${share.padEnd(12)} ${goal}`,
  );
}

function readTable(file) {
  const lines = readFileSync(file, 'utf8').trim().split('\n');
  const [head, ...rows] = lines.map((text) => text.replaceAll('"', '').split(','));
  return rows.map((cells) => Object.fromEntries(head.map((name, i) => [name, cells[i]])));
}

/** Restricted maximum likelihood of 40 unbalanced analytes: first pass and later passes of a fresh process. */
function remlOnce() {
  const analytes = new Map();
  for (const row of readTable(join(folder, 'reml/data.csv'))) {
    const set = analytes.get(row.analyte) ?? [];
    set.push(row);
    analytes.set(row.analyte, set);
  }
  const factor = (name, rows) => ({ name, levels: rows.map((row) => row[name]) });
  const values = (rows) => rows.map((row) => Number(row.y));
  const fits = [...analytes.values()].map((rows) => {
    const one = rows.filter((row) => row.run === '0');
    return {
      day: [values(one), [factor('day', one)]],
      run: [values(rows), [factor('day', rows), factor('run', rows)]],
    };
  });
  const { remlNested } = load('reml-nested.js');
  const pass = (key) => {
    const start = performance.now();
    const results = fits.map((fit) => remlNested(...fit[key]));
    return { ms: (performance.now() - start) / fits.length, results };
  };
  const cold = pass('run');
  const ofDay = pass('day');
  const warm = (key) => median(Array.from({ length: 31 }, () => pass(key).ms));
  return {
    cold: cold.ms,
    run: warm('run'),
    day: warm('day'),
    worst: Math.max(worst(cold.results, 'lme4_day_run.csv'), worst(ofDay.results, 'lme4_day.csv')),
  };
}

/** Largest difference from lme4's stored estimates, as a share of the total variance (of its root for the mean). */
function worst(results, file) {
  const differences = readTable(join(folder, 'reml', file)).flatMap((row, i) => {
    const { components, totalVariance, fixed } = results[i];
    const ofMean = Math.abs(fixed[0].estimate - Number(row.mean)) / Math.sqrt(totalVariance);
    return [ofMean, ...components.map((c) => Math.abs(c.variance - Number(row[c.name])) / totalVariance)];
  });
  return Math.max(...differences);
}

function compareReml(scratch) {
  const rounds = Array.from({ length: 3 }, () => {
    const ours = [0, 1, 2, 3, 4].map(() => JSON.parse(run(process.execPath, [self, 'reml'])));
    const text = run('Rscript', [join(folder, 'reml/fit_lme4.R')], { cwd: scratch });
    const found = /day\) ([\d.]+) ms\/fit, \(1\|day\/run\) ([\d.]+)/.exec(text ?? '');
    return {
      // A first pass lasts some 30 ms: one interruption by another process doubles it, so the fastest of five counts.
      cold: Math.min(...ours.map((o) => o.cold)),
      run: median(ours.map((o) => o.run)),
      day: median(ours.map((o) => o.day)),
      worst: ours[0].worst,
      theirRun: found ? Number(found[2]) : null,
      theirDay: found ? Number(found[1]) : null,
    };
  });
  const compare = (what, key, theirKey, goal) => {
    const measured = rounds.every((round) => round[theirKey] !== null);
    line(
      what,
      median(rounds.map((round) => round[key])),
      measured ? median(rounds.map((round) => round[theirKey])) : null,
      'ms a fit',
      measured ? median(rounds.map((round) => round[key] / round[theirKey])) : null,
      goal,
    );
  };
  compare('REML day/run, first pass, lme4', 'cold', 'theirRun', 'at most 0.05');
  compare('REML day/run, warm, lme4', 'run', 'theirRun', '0.01 is good');
  compare('REML day, warm, lme4', 'day', 'theirDay', '0.01 is good');
  console.log(
    `REML: largest difference from lme4's stored estimates ${rounds[0].worst.toExponential(1)} (at most 1e-5)`,
  );
}

/** One-way analysis of variance of 40 elements over 1.2 million typed values, reading not counted. */
async function compareAnova(scratch) {
  const file = join(scratch, 'data.csv');
  if (run(process.execPath, [join(folder, 'csv/gen.mjs'), file]) === null) return;
  const { values, elements, runs, elementCount, runCount } = await typedColumns(file);
  const { oneWayColumns } = load('one-way-columns.js');
  const rounds = Array.from({ length: 3 }, () => {
    let sum = 0;
    const times = Array.from({ length: 3 }, () => {
      const start = performance.now();
      const found = oneWayColumns(values, elements, runs, elementCount, runCount);
      sum = found.reduce((total, analysis) => total + analysis.f, 0);
      return performance.now() - start;
    });
    const text = run('/usr/bin/python3', [join(folder, 'csv/anova_pandas.py'), file, 'few']);
    const found = /anova (\d+) total/.exec(text ?? '');
    return { ours: median(times), first: times[0], theirs: found ? Number(found[1]) : null, sum };
  });
  const measured = rounds.every((round) => round.theirs !== null);
  line(
    'ANOVA of 1.2 million values, pandas',
    median(rounds.map((round) => round.ours)),
    measured ? median(rounds.map((round) => round.theirs)) : null,
    'ms',
    measured ? median(rounds.map((round) => round.ours / round.theirs)) : null,
    `at most 0.2 (first call ${rounds[0].first.toFixed(0)} ms)`,
  );
  console.log(`ANOVA: sum of F ${rounds[0].sum.toFixed(6)} (1059.297970)`);
}

/** Columns of the benchmark's own plain file: run first, element fifth, intensity last. */
async function typedColumns(path) {
  const values = [];
  const elements = [];
  const runs = [];
  const [runCodes, elementCodes] = [new Map(), new Map()];
  const code = (map, name) => {
    if (!map.has(name)) map.set(name, map.size);
    return map.get(name);
  };
  let rest = '';
  let head = true;
  for await (const chunk of createReadStream(path, 'utf8')) {
    const lines = (rest + chunk).split('\n');
    rest = lines.pop();
    for (const text of lines) {
      if (head) {
        head = false;
        continue;
      }
      const cells = text.split(',');
      runs.push(code(runCodes, cells[0]));
      elements.push(code(elementCodes, cells[4]));
      values.push(Number(cells[7]));
    }
  }
  return {
    values: Float64Array.from(values),
    elements: Int32Array.from(elements),
    runs: Int32Array.from(runs),
    elementCount: elementCodes.size,
    runCount: runCodes.size,
  };
}
