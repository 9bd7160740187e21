// Ratios of the simulation engine to general-purpose programs, all in one interleaved run. usage: npm run build && node tests/bench/simulation.bench.mjs [rounds]
// MELTBOOK_BENCH names the folder of the reference programs. gcc, Python with numpy and R are optional.
import { execFileSync } from 'node:child_process';
import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { loadavg, tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const self = fileURLToPath(import.meta.url);
const root = join(dirname(self), '../..');
const require = createRequire(import.meta.url);
const load = (path) => require(join(root, 'dist/uncertainty', path));
const folder = process.env.MELTBOOK_BENCH;
const median = (list) => [...list].sort((a, b) => a - b)[Math.floor(list.length / 2)];

if (!folder || !existsSync(folder)) {
  console.log('skipped: MELTBOOK_BENCH does not name the folder of the reference programs');
} else if (process.argv[2] === 'run') {
  console.log(
    JSON.stringify(await ours(...process.argv.slice(3, 6).map(Number), process.argv[6] === 'cold')),
  );
} else if (process.argv[2] === 'interval') {
  console.log(JSON.stringify(interval()));
} else if (process.argv[2] === 'bits') {
  console.log(JSON.stringify(await sameBits()));
} else {
  const scratch = mkdtempSync(join(tmpdir(), 'meltbook-bench-'));
  try {
    cpSync(folder, scratch, { recursive: true });
    compare(scratch, Number(process.argv[2] ?? 3));
  } finally {
    rmSync(scratch, { recursive: true, force: true });
  }
}

/** The model of the reference programs, as our own data hold it. */
function example() {
  const file = join(root, 'data/reference/simulation/element-in-solid.json');
  const { budget, reference } = JSON.parse(readFileSync(file, 'utf8'));
  const { inputsOfBudgetFile } = load('budget-file/inputs-of-budget-file.js');
  return { model: budget, reference, ...inputsOfBudgetFile(budget) };
}

/** One process: two runs to warm up unless it is cold, then the median of the others. */
async function ours(trials, workers, repeats, isCold) {
  const { simulate } = load('simulation/simulate.js');
  const { model, inputs, correlations } = example();
  const once = (seed, wanted = trials) =>
    simulate(model, inputs, correlations, { seed, trials: wanted, workers });
  if (!isCold) for (let seed = 1; seed <= 2; seed++) await once(seed, Math.min(trials, 1e6));
  const times = [];
  const cpu = [];
  let result;
  for (let k = 0; k < repeats; k++) {
    const [start, used] = [performance.now(), process.cpuUsage()];
    result = await once(20240117 + k);
    times.push(performance.now() - start);
    const { user, system } = process.cpuUsage(used);
    cpu.push((user + system) / 1e3);
  }
  const output = result.outputs[0];
  return {
    impl: 'meltbook',
    threads: workers,
    M: trials,
    total_ms: median(times),
    cpu_ms: median(cpu),
    mean: output.estimate,
    sd: output.standardUncertainty,
    output,
    rss_mb: Math.round(process.resourceUsage().maxRSS / 1024),
  };
}

/** Both intervals of a million values beside a sort of them, in turn. */
function interval() {
  const { coverageIntervals } = load('simulation/coverage-interval.js');
  const { TailMemory } = load('simulation/sorted-tails.js');
  const { randomStream } = load('random-stream.js');
  const stream = randomStream(1, 'interval');
  const values = Float64Array.from({ length: 1e6 }, () => stream.normal());
  const memory = new TailMemory();
  const copy = new Float64Array(values.length);
  const time = (act) => {
    const start = performance.now();
    act();
    return performance.now() - start;
  };
  const ratios = Array.from({ length: 9 }, () => {
    const found = time(() => coverageIntervals(values, 0.95, memory));
    copy.set(values);
    return found / time(() => copy.sort());
  });
  return { ratio: median(ratios.slice(2)) };
}

async function sameBits() {
  const { simulate } = load('simulation/simulate.js');
  const { model, inputs, correlations } = example();
  const results = [];
  for (const workers of [1, 2, 4, 1]) {
    results.push(
      JSON.stringify(await simulate(model, inputs, correlations, { seed: 1, trials: 1e6, workers })),
    );
  }
  return { same: results.every((result) => result === results[0]) };
}

/** Runs a program; the last line it prints is JSON. Nothing where it cannot run. */
function run(command, args, options = {}) {
  try {
    const start = performance.now();
    const text = execFileSync(command, args, {
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'pipe'],
      ...options,
    });
    const wall = performance.now() - start;
    const last = text.trim().split('\n').pop();
    return { wall, ...(last.startsWith('{') ? JSON.parse(last) : {}) };
  } catch (error) {
    console.log(`not measured: ${command} ${args[0]}: ${String(error.message).split('\n')[0]}`);
    return null;
  }
}

function compare(scratch, rounds) {
  const node = (...args) => run(process.execPath, [self, ...args.map(String)]);
  const tuned = {
    cwd: scratch,
    env: { ...process.env, MALLOC_TRIM_THRESHOLD_: '2000000000', MALLOC_MMAP_THRESHOLD_: '33554432' },
  };
  const numpy = (options, ...args) =>
    run('/usr/bin/python3', [join(scratch, 'mc_numpy.py'), ...args.map(String)], options);
  run(process.execPath, ['gen.mjs'], { cwd: scratch });
  run('gcc', ['-O3', '-march=native', '-o', 'mc', 'mc.c', '-lm', '-lpthread'], { cwd: scratch });
  const c = (...args) => run(join(scratch, 'mc'), args.map(String), { cwd: scratch });
  const mathjs = () =>
    run(process.execPath, [join(scratch, 'mc_mathjs.mjs'), '1e6', '1'], {
      env: { ...process.env, MATHJS_FROM: join(root, 'package.json') },
    });
  const programs = {
    ours: () => node('run', 1e6, 1, 5),
    numpyBest: () => numpy(tuned, 1e6, 3, 8192, 'part'),
    numpyPlain: () => numpy({ cwd: scratch }, 1e6, 3),
    c: () => c(1e6, 5, 1),
    ours2: () => node('run', 1e6, 2, 5),
    c2: () => c(1e6, 5, 2),
    mathjs,
    cold: () => node('run', 1e6, 1, 1, 'cold'),
    numpyCold: () => numpy(tuned, 1e6, 1, 8192, 'part'),
    long: () => node('run', 1e7, 1, 1),
    long2: () => node('run', 1e7, 2, 1),
    interval: () => node('interval'),
  };
  const found = Object.fromEntries(Object.keys(programs).map((name) => [name, []]));
  for (let round = 0; round < rounds; round++) {
    for (const [name, program] of Object.entries(programs)) found[name].push(program());
  }
  report(found, node('bits'));
}

function report(found, bits) {
  const values = (name, key) => found[name].map((result) => result?.[key] ?? null);
  /** Median of the ratios round by round. */
  const ratio = (first, second, key = 'total_ms') => {
    const [a, b] = [values(first, key), values(second, key)];
    const ratios = a.flatMap((value, i) => (value === null || b[i] === null ? [] : [value / b[i]]));
    return ratios.length === 0 ? null : median(ratios);
  };
  const number = (digits) => (value) => value.toFixed(digits);
  const percent = (value) => `${(100 * value).toFixed(0)} %`;
  const megabytes = (value) => `${value.toFixed(0)} MB`;
  const row = (what, show, [sign, must, good], value, byCpu = null) => {
    const isMet = sign === '≤' ? value <= must : value >= must;
    const verdict = value === null ? 'not measured' : isMet ? 'must met' : 'MUST MISSED';
    const cell = (figure) => (figure === null ? '-' : show(figure));
    console.log(
      `| ${what} | ${sign} ${show(must)} | ${sign} ${show(good)} | ${cell(value)} | ${cell(byCpu)} | ${verdict} |`,
    );
  };
  /** Both by wall clock, which counts, and by processor time, which a busy machine disturbs less. */
  const both = (what, show, goal, first, second) =>
    row(what, show, goal, ratio(first, second), ratio(first, second, 'cpu_ms'));
  console.log('| what | must | good | measured | by processor time | |\n|---|---|---|---|---|---|');
  both(
    '1e6 trials, 1 thread, warm: time against numpy best',
    number(2),
    ['≤', 0.8, 0.6],
    'ours',
    'numpyBest',
  );
  both('the same against numpy plain', number(2), ['≤', 0.45, 0.3], 'ours', 'numpyPlain');
  both('the same: speed as a share of C', percent, ['≥', 0.35, 0.5], 'c', 'ours');
  both('1e6, 2 threads, warm: speed as a share of C with 2', percent, ['≥', 0.35, 0.5], 'c2', 'ours2');
  row('speed-up of 2 threads, 1e7, warm', number(2), ['≥', 1.5, 1.75], ratio('long', 'long2'));
  both('1e6, 1 thread: times faster than mathjs', number(1), ['≥', 20, 30], 'mathjs', 'ours');
  const sort = median(values('interval', 'ratio'));
  row('both intervals of 1e6 values: share of Float64Array.sort()', percent, ['≤', 0.35, 0.2], sort);
  const cold = ratio('cold', 'numpyCold', 'wall');
  row('whole process, 1e6, cold, against numpy best', number(2), ['≤', 1.25, 1], cold);
  const beyond = median(values('long2', 'rss_mb')) - 80;
  row('peak memory at 1e7 with 2 threads, beyond 8 B a trial', megabytes, ['≤', 120, 80], beyond);
  const distance = furthest(found.long[0].output);
  row('1e7 trials against the reference, in standard errors', number(1), ['≤', 4, 4], distance);
  console.log(`same bits for 1, 2 and 4 threads and on a rerun: ${bits.same ? 'yes' : 'NO'}`);
  const parts = Object.keys(found)
    .filter((name) => name !== 'interval' && values(name, 'total_ms').every((value) => value !== null))
    .map((name) => `${name} ${median(values(name, 'total_ms')).toFixed(0)}`);
  console.log(`milliseconds, for orientation: ${parts.join(', ')}`);
  console.log(
    `load of the last 15 minutes: ${loadavg()[2].toFixed(1)}; more than about 1 disturbs every figure`,
  );
}

/** Largest distance from the reference in combined standard errors. */
function furthest(output) {
  const { reference } = example();
  const error = output.numericalStandardErrors;
  const figures = {
    estimate: [output.estimate, error.estimate],
    'standard uncertainty': [output.standardUncertainty, error.standardUncertainty],
    'symmetric low': [output.symmetric.low, error.symmetricLow],
    'symmetric high': [output.symmetric.high, error.symmetricHigh],
    'shortest low': [output.shortest.low, error.shortestLow],
    'shortest high': [output.shortest.high, error.shortestHigh],
  };
  return Math.max(
    ...reference.map(({ figure, value, standardError }) => {
      const [found, ownError] = figures[figure];
      return Math.abs(found - value) / Math.hypot(ownError, standardError);
    }),
  );
}
