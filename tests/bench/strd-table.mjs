// Log relative errors of the statistics layer against the values certified by NIST. usage: npm run build && node tests/bench/strd-table.mjs
// "data" is the number of digits that data rounded to binary64 allow; NIST prints 15 digits, so 15 is a full score.
import { readdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = join(dirname(fileURLToPath(import.meta.url)), '../..');
const require = createRequire(import.meta.url);
const load = (path) => require(join(root, 'dist/statistics', path));
const { oneWayAnalysis } = load('analysis-of-variance/one-way.js');
const { autocorrelation } = load('descriptive/autocorrelation.js');
const { mean } = load('descriptive/mean.js');
const { standardDeviation } = load('descriptive/standard-deviation.js');
const { fitLinearModel } = load('regression/linear-model.js');
const { fitPolynomial } = load('regression/polynomial.js');

const tenths = (base, list) => list.map((k) => (10 * base + k) / 10);

function univariate({ data, generator }) {
  const steps = () => [2, ...Array.from({ length: generator.pairs }, () => [1, 3]).flat()];
  const values = data?.y ?? tenths(generator.base, steps());
  return { mean: mean(values), sd: standardDeviation(values), lag1_autocorrelation: autocorrelation(values) };
}

function anova({ data, generator }) {
  const replicate = (j) => (j === 0 ? 0 : j % 2 === 1 ? -1 : 1);
  const groups =
    data?.groups ??
    [4, 3, 5, 3, 5, 3, 5, 3, 5].map((t) =>
      tenths(
        generator.base,
        Array.from({ length: generator.replicates }, (_, j) => t + replicate(j)),
      ),
    );
  const found = oneWayAnalysis(groups);
  return {
    'between.ss': found.sumOfSquaresBetween,
    'between.ms': found.meanSquareBetween,
    'between.F': found.f,
    'within.ss': found.sumOfSquaresWithin,
    'within.ms': found.meanSquareWithin,
    r2: found.rSquared,
    residual_sd: Math.sqrt(found.withinVariance),
  };
}

function linear({ data, model }) {
  const fit =
    model.type === 'multiple'
      ? fitLinearModel(Object.values(data.x), data.y)
      : fitPolynomial(data.x, data.y, model.degree, { throughOrigin: model.intercept === false });
  const found = {
    'regression.ss': fit.regressionSumOfSquares,
    'regression.ms': fit.regressionMeanSquare,
    'regression.F': fit.f,
    'residual.ss': fit.residualSumOfSquares,
    'residual.ms': fit.residualMeanSquare,
    r2: fit.rSquared,
    residual_sd: fit.residualStandardDeviation,
  };
  fit.coefficients.forEach((coefficient, i) => {
    const name = `B${fit.hasIntercept ? i : i + 1}`;
    found[name] = coefficient;
    found[`sd(${name})`] = fit.standardErrors[i];
  });
  return found;
}

function certifiedValues({ certified }) {
  const { coefficients = [], anova: table = {}, between, within, ...plain } = certified;
  const blocks = { ...table, ...(between ? { between, within } : {}) };
  return Object.fromEntries([
    ...coefficients.flatMap((c) => [
      [c.name, c.estimate],
      [`sd(${c.name})`, c.sd],
    ]),
    ...Object.entries(blocks).flatMap(([name, block]) =>
      Object.entries(block).map(([key, value]) => [`${name}.${key}`, value]),
    ),
    ...Object.entries(plain),
  ]);
}

function score(actual, certified) {
  if (actual === certified) return 'all';
  if (certified === 0) return `|x| = ${Math.abs(actual).toExponential(0)}`;
  if (certified === Number.POSITIVE_INFINITY) return actual.toExponential(0);
  return (-Math.log10(Math.abs(actual - certified) / Math.abs(certified))).toFixed(1);
}

const kinds = { univariate, anova, linear };
const order = { univariate: 0, anova: 1, linear: 2 };
const folder = join(root, 'data/reference/strd');
const sets = readdirSync(folder)
  .filter((file) => file.endsWith('.json'))
  .map((file) => JSON.parse(readFileSync(join(folder, file), 'utf8')))
  .sort((a, b) => order[a.kind] - order[b.kind]);
for (const set of sets) {
  const certified = certifiedValues(set);
  for (const [name, value] of Object.entries(kinds[set.kind](set))) {
    const digits = score(value, Number(certified[name]));
    const data = String(set.digitsOfBinary64Data[name]);
    console.log(
      `${set.name.padEnd(9)} ${name.padEnd(21)} ${String(certified[name]).padEnd(24)} ${String(value).padEnd(24)} digits ${digits.padEnd(12)} data ${data}`,
    );
  }
}
