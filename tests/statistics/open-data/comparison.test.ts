import { describe, expect, it } from 'vitest';
import { varianceInterval } from '../../../src/statistics/analysis-of-variance/variance-interval.js';
import { equivalenceTest } from '../../../src/statistics/comparison/equivalence-test.js';
import { pairedTTest } from '../../../src/statistics/comparison/paired-t-test.js';
import { pooledTTest } from '../../../src/statistics/comparison/pooled-t-test.js';
import type { TTest } from '../../../src/statistics/comparison/t-test.js';
import { tTestPower } from '../../../src/statistics/comparison/t-test-power.js';
import { fTest } from '../../../src/statistics/comparison/variance-ratio.js';
import { welchTTest } from '../../../src/statistics/comparison/welch-t-test.js';
import { mean } from '../../../src/statistics/descriptive/mean.js';
import { median } from '../../../src/statistics/descriptive/median.js';
import { normalConsistency } from '../../../src/statistics/descriptive/scaled-median-absolute-deviation.js';
import { standardDeviation } from '../../../src/statistics/descriptive/standard-deviation.js';
import { betaQuantile } from '../../../src/statistics/distributions/beta.js';
import {
  chiSquaredQuantile,
  chiSquaredUpperQuantile,
} from '../../../src/statistics/distributions/chi-squared.js';
import { noncentralTSurvival } from '../../../src/statistics/distributions/noncentral-t.js';
import { studentTUpperQuantile } from '../../../src/statistics/distributions/student-t.js';
import { trend } from '../../../src/statistics/screening/trend.js';
import type { Computed } from '../../support/expect-block.js';
import {
  blockAt,
  classicalSet,
  type JsonObject,
  openDataFolder,
  openSet,
  readReference,
} from '../../support/reference-sets.js';
import { expectSample, keep, tTestBlock } from './sample-block.js';

type Pairs = readonly (readonly [number, number])[];

function tostBlock(test: TTest, low: number, high: number): Computed {
  const found = equivalenceTest(test, low, high);
  return {
    margin: [low, high],
    t_lower: found.tLow,
    t_upper: found.tHigh,
    p_lower: found.pLow,
    p_upper: found.pHigh,
    p: found.pValue,
    ci90: [found.interval.low, found.interval.high],
  };
}

/** Duplicates: standard deviation of one result from the differences of pairs, and whether they differ at all. */
function duplicates(pairs: Pairs): Computed {
  const differences = pairs.map(([a, b]) => a - b);
  const rootMeanSquare = (values: readonly number[]) => Math.sqrt(mean(values.map((x) => (x * x) / 2)));
  const sd = rootMeanSquare(differences);
  const { interval } = varianceInterval(sd * sd, pairs.length);
  const test = pairedTTest(
    pairs.map(([a]) => a),
    pairs.map(([, b]) => b),
  );
  return {
    pairs: pairs.length,
    sd,
    sd_ci95_chisq: [Math.sqrt(interval.low), Math.sqrt(interval.high)],
    relative_sd: rootMeanSquare(pairs.map(([a, b]) => (a - b) / mean([a, b]))),
    log_sd: rootMeanSquare(pairs.map(([a, b]) => Math.log(a / b))),
    mean_abs_difference: mean(differences.map(Math.abs)),
    robust_sd_from_median_abs_difference:
      (normalConsistency * median(differences.map(Math.abs))) / Math.SQRT2,
    median_mean: median(pairs.map(mean)),
    paired_t: tTestBlock(test),
    sign_counts: {
      positive: differences.filter((d) => d > 0).length,
      zero: differences.filter((d) => d === 0).length,
      negative: differences.filter((d) => d < 0).length,
    },
  };
}

function expectDuplicates(block: JsonObject, pairs: Pairs): void {
  const left = [
    'sd_from_mean_range_d2',
    'one_way',
    'ln_one_way',
    'log10_one_way',
    'abs_difference_versus_mean',
  ];
  expectSample(keep(block, 'all', left), duplicates(pairs));
}

/** Two methods on the same samples. */
function methods(first: readonly number[], second: readonly number[], margin: number): Computed {
  const test = pairedTTest(first, second);
  const differences = first.map((x, i) => x - second[i]!);
  const spread = standardDeviation(differences);
  return {
    n: first.length,
    paired_t: tTestBlock(test),
    sd_of_differences: spread,
    'limits_of_agreement_1.96': [test.difference - 1.96 * spread, test.difference + 1.96 * spread],
    tost: tostBlock(test, -margin, margin),
  };
}

describe('comparisons against R, classical data', () => {
  it('cheese dry substance, milk-composition: factory against laboratory', () => {
    const set = classicalSet('milk-composition');
    const [factory, laboratory] = [set.numbers('cheese_dry_factory'), set.numbers('cheese_dry_lab')];
    const block = blockAt(set.results, 'cheese_dry_factory_versus_lab');
    expectSample(keep(block, 'all', ['deming_lambda1', 'passing_bablok']), methods(factory, laboratory, 0.5));
  });

  it('dnase-elisa: duplicates', () => {
    const set = classicalSet('dnase-elisa');
    const [run, level, density] = [set.text('run'), set.text('conc_ng_mL'), set.numbers('optical_density')];
    const keys = density.map((_, i) => `${run[i]}/${level[i]}`);
    const pairs = [...new Set(keys)].map(
      (key) => density.filter((_, i) => keys[i] === key) as [number, number],
    );
    expectDuplicates(blockAt(set.results, 'duplicates_all'), pairs);
  });

  const { results } = readReference<{ results: JsonObject }>('statistics/tests-and-power');
  const { x, y } = results.data as unknown as { x: number[]; y: number[] };

  it('pottery of two sites: t tests, variance ratio, equivalence', () => {
    const estimate = [mean(x), mean(y)];
    expectSample(results.welch, tTestBlock(welchTTest(x, y), estimate));
    expectSample(results.equal_variance, tTestBlock(pooledTTest(x, y), estimate));
    const f = fTest(x, y);
    expectSample(results.variance_ratio, {
      F: f.ratio,
      df: [...f.degreesOfFreedom],
      p_two_sided: f.pValue,
      ci95: [f.interval.low, f.interval.high],
    });
    expectSample(results.tost_margin_8, tostBlock(welchTTest(x, y), -8, 8));
  });

  it('power of t tests, both tails counted', () => {
    const power = (n: number, difference: number, standardDeviation: number, alpha = 0.05) =>
      tTestPower(n, { kind: 'two-sample', difference, standardDeviation, alpha }).power;
    const oneSided = { kind: 'one-sample', difference: 1.2, standardDeviation: 1, sides: 1 } as const;
    expectSample(keep(blockAt(results.power_strict_formula!), 'all', ['n3_d.1_s1_not_strict']), {
      n10_d1_s1: power(10, 1, 1),
      'n6_d.5_s.3_a.01': power(6, 0.5, 0.3, 0.01),
      'one_n8_d1.2': tTestPower(8, oneSided).power,
      'n3_d.1_s1': power(3, 0.1, 1),
    });
  });

  it('power of t tests, the tail on the side of the difference alone', () => {
    interface Plan {
      readonly n: number;
      readonly delta: number;
      readonly sd: number;
      readonly sig_level: number;
      readonly power: number;
      readonly alternative: string;
    }
    const oneTail = (plan: Omit<Plan, 'power'>, groups: number) => {
      const nu = groups * (plan.n - 1);
      const critical = studentTUpperQuantile(plan.sig_level / (plan.alternative === 'two.sided' ? 2 : 1), nu);
      return noncentralTSurvival(critical, nu, (plan.delta / plan.sd) * Math.sqrt(plan.n / groups));
    };
    const plans = results.power_t_test as unknown as Plan[];
    // The reference does not say which are of two samples: first, second, third and sixth.
    const groups = [2, 2, 2, 1, 1, 2, 1];
    expect(plans).toHaveLength(groups.length);
    plans.forEach((plan, i) => {
      expect(oneTail(plan, groups[i]!)).toAgreeWithin(plan.power, 1e-10);
    });
    const notStrict = { n: 3, delta: 0.1, sd: 1, sig_level: 0.05, alternative: 'two.sided' };
    const { 'n3_d.1_s1_not_strict': expected } = blockAt(results.power_strict_formula!);
    expect(oneTail(notStrict, 2)).toAgreeWithin(expected as number, 1e-10);
  });

  it('exact intervals of proportions and counts by the beta and χ² quantiles', () => {
    const exact = blockAt(results.proportion_exact!);
    expectSample(keep(exact, 'all', ['ppoints_5', 'ppoints_12']), {
      clopper_pearson_3_of_20: [betaQuantile(0.025, 3, 18), betaQuantile(0.975, 4, 17)],
      clopper_pearson_0_of_30: [0, betaQuantile(0.975, 1, 30)],
      poisson_exact_5: [chiSquaredQuantile(0.025, 10) / 2, chiSquaredUpperQuantile(0.025, 12) / 2],
    });
  });
});

describe.skipIf(!openDataFolder)('comparisons against R, open data (needs MELTBOOK_REFERENCE_DATA)', () => {
  it('gsc_duplicates_cu: laboratory duplicates, and how their difference grows', () => {
    const set = openSet('gsc_duplicates_cu');
    const second = set.numbers('routine_mg_kg');
    const pairs = set.numbers('analytical_duplicate_mg_kg').map((a, i) => [second[i]!, a] as const);
    expectDuplicates(set.results, pairs);
    const growth = blockAt(set.results, 'abs_difference_versus_mean');
    const found = trend(
      pairs.map(([a, b]) => Math.abs(a - b)),
      pairs.map(([a, b]) => (a + b) / 2),
    );
    expectSample(keep(growth, ['slope']), { slope: found.slope });
    expectSample(keep(blockAt(growth, 'se'), ['m']), { m: found.standardUncertainty });
  });

  it('kola_analytical_duplicates: every analyte', () => {
    const set = openSet('kola_analytical_duplicates');
    const [method, analyte] = [set.text('method'), set.text('analyte')];
    const [first, second] = [set.text('first'), set.text('second')];
    const blocks = Object.entries(set.results);
    expect(blocks.length).toBeGreaterThan(20);
    for (const [name, block] of blocks) {
      const pairs = first.flatMap((a, i) => {
        const wanted = `${method[i]}:${analyte[i]}` === name && a !== '' && second[i] !== '';
        return wanted ? [[Number(a), Number(second[i])] as const] : [];
      });
      expectDuplicates(blockAt(block), pairs);
    }
  });

  it('kola_two_methods: iron and sodium by two methods', () => {
    const set = openSet('kola_two_methods');
    for (const element of ['Fe', 'Na']) {
      const [xrf, inaa] = [set.numbers(`${element}_xrf`), set.numbers(`${element}_inaa`)];
      const paired = blockAt(set.results, element, 'paired');
      const margin = (blockAt(paired, 'tost').margin as number[])[1]!;
      expectSample(paired, methods(inaa, xrf, margin));
      const logs = pairedTTest(inaa.map(Math.log), xrf.map(Math.log));
      const ratio = blockAt(set.results, element, 'ratio');
      expectSample(ratio, {
        geometric_mean_ratio: Math.exp(logs.difference),
        sd_ln: logs.standardUncertainty * Math.sqrt(xrf.length),
        ci95: [Math.exp(logs.interval.low), Math.exp(logs.interval.high)],
      });
    }
  });
});
