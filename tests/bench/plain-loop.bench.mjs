// Simulation against a loop over trials in the same process, which draws every input by Box and Muller and sorts all results.
// usage: npm run build && node tests/bench/plain-loop.bench.mjs
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = join(dirname(fileURLToPath(import.meta.url)), '../..');
const load = (path) => createRequire(import.meta.url)(join(root, 'dist/uncertainty', path));
const { inputsOfBudgetFile } = load('budget-file/inputs-of-budget-file.js');
const { evaluateProgram } = load('expression/evaluate-program.js');
const { compileModel } = load('model/compile-model.js');
const { simulateInThread } = load('simulation/simulate.js');

const trials = 50_000;
const example = join(root, 'data/reference/simulation/element-in-solid.json');
const { budget } = JSON.parse(readFileSync(example, 'utf8'));
const { inputs, correlations } = inputsOfBudgetFile(budget);

function plainly() {
  const { program } = compileModel(budget);
  const order = program.inputs.map((name) => inputs.find((input) => input.name === name));
  const values = new Float64Array(trials);
  const drawn = new Float64Array(order.length);
  for (let trial = 0; trial < trials; trial++) {
    order.forEach(({ estimate, standardUncertainty: u }, i) => {
      const z = Math.sqrt(-2 * Math.log(1 - Math.random())) * Math.cos(2 * Math.PI * Math.random());
      drawn[i] = estimate + u * z;
    });
    values[trial] = evaluateProgram(program, drawn)[program.results[0]];
  }
  values.sort();
}

function seconds(act) {
  const start = process.cpuUsage();
  act();
  const { user, system } = process.cpuUsage(start);
  return (user + system) / 1e6;
}

// The first round warms both.
const rounds = Array.from({ length: 5 }, (_, seed) => [
  seconds(() => simulateInThread(budget, inputs, correlations, { seed, trials })),
  seconds(plainly),
]).slice(1);
const [ours, plain] = [0, 1].map((which) => Math.min(...rounds.map((round) => round[which])));
const ratio = plain / ours;
console.log(
  `${ratio.toFixed(1)} times as fast as a plain loop (≥ 2.5: ${ratio >= 2.5 ? 'met' : 'not met'}); ${trials} trials, least of ${rounds.length} rounds`,
);
