import { describe, expect, it } from 'vitest';
import { deming } from '../../../src/statistics/regression/deming.js';
import { fitLine } from '../../../src/statistics/regression/line.js';
import { fitLinearModel } from '../../../src/statistics/regression/linear-model.js';
import { passingBablok } from '../../../src/statistics/regression/passing-bablok.js';
import { residualDiagnostics } from '../../../src/statistics/regression/residual-diagnostics.js';
import type { UncertainLineFit } from '../../../src/statistics/regression/uncertain-line.js';
import { york } from '../../../src/statistics/regression/york.js';
import { type Computed, expectBlock } from '../../support/expect-block.js';
import { blockAt, classicalSet, grouped, openDataFolder, openSet } from '../../support/reference-sets.js';

const closedForm = () => ({ relative: 1e-10 });

function yorkBlock(fit: UncertainLineFit): { [key: string]: Computed } {
  const reduced = fit.chiSquared / fit.degreesOfFreedom;
  return {
    intercept: fit.intercept,
    slope: fit.slope,
    se_intercept: Math.sqrt(fit.varianceIntercept),
    se_slope: Math.sqrt(fit.varianceSlope),
    covariance: fit.covariance,
    S: fit.chiSquared,
    reduced_chi_squared: reduced,
    p: fit.pValue,
    se_intercept_scaled: Math.sqrt(fit.varianceIntercept * reduced),
    se_slope_scaled: Math.sqrt(fit.varianceSlope * reduced),
  };
}

function demingBlock(x: readonly number[], y: readonly number[]): { [key: string]: Computed } {
  const fit = deming(x, y);
  return {
    lambda: fit.varianceRatio,
    intercept: fit.intercept,
    slope: fit.slope,
    se_intercept_jackknife: fit.standardErrorIntercept,
    se_slope_jackknife: fit.standardErrorSlope,
    ci95_intercept: [fit.interceptInterval.low, fit.interceptInterval.high],
    ci95_slope: [fit.slopeInterval.low, fit.slopeInterval.high],
  };
}

function passingBablokBlock(x: readonly number[], y: readonly number[]): { [key: string]: Computed } {
  const fit = passingBablok(x, y);
  return {
    slope: fit.slope,
    intercept: fit.intercept,
    slope_ci95: [fit.slopeInterval.low, fit.slopeInterval.high],
    intercept_ci95: [fit.interceptInterval.low, fit.interceptInterval.high],
    N_slopes: fit.slopes,
    K: fit.offset,
  };
}

describe('fits with error in both coordinates, classical data sets against R', () => {
  it('York: the line of Pearson 1901 with the weights of York 1966', () => {
    const set = classicalSet('pearson-york');
    const u = (column: string) => set.numbers(column).map((w) => 1 / Math.sqrt(w));
    const fit = york(set.numbers('x'), set.numbers('y'), u('weight_x'), u('weight_y'));
    expectBlock(blockAt(set.results, 'york'), yorkBlock(fit), closedForm);
  });

  it('Deming: lactic acid and cheese dry substance', () => {
    const lactic = classicalSet('lactic-acid');
    expectBlock(
      blockAt(lactic.results, 'deming_lambda1'),
      demingBlock(lactic.numbers('x_true'), lactic.numbers('y_instrument')),
      closedForm,
    );
    const milk = classicalSet('milk-composition');
    expectBlock(
      blockAt(milk.results, 'cheese_dry_factory_versus_lab', 'deming_lambda1'),
      demingBlock(milk.numbers('cheese_dry_factory'), milk.numbers('cheese_dry_lab')),
      closedForm,
    );
  });

  it('Passing–Bablok: cheese dry substance', () => {
    const milk = classicalSet('milk-composition');
    expectBlock(
      blockAt(milk.results, 'cheese_dry_factory_versus_lab', 'passing_bablok'),
      passingBablokBlock(milk.numbers('cheese_dry_factory'), milk.numbers('cheese_dry_lab')),
      closedForm,
    );
  });

  it('multiple regression with influence: soil phosphorus', () => {
    const set = classicalSet('soil-phosphorus');
    const fit = fitLinearModel(
      [set.numbers('inorganic_ppm'), set.numbers('organic_ppm')],
      set.numbers('plant_ppm'),
    );
    const names = ['(Intercept)', 'inorganic_ppm', 'organic_ppm'];
    const named = (values: readonly number[]) => Object.fromEntries(names.map((n, i) => [n, values[i]!]));
    expectBlock(
      blockAt(set.results, 'multiple_regression'),
      {
        coefficients: named(fit.coefficients),
        se: named(fit.standardErrors),
        residual_sd: fit.residualStandardDeviation,
        r_squared: fit.rSquared,
        cooks_distance: residualDiagnostics(fit).map((d) => d.cooksDistance),
      },
      closedForm,
    );
  });
});

describe.skipIf(!openDataFolder)(
  'fits with error in both coordinates, open data (needs MELTBOOK_REFERENCE_DATA)',
  () => {
    it('York: iron standards with uncertainties, two of them without any in x', () => {
      const set = openSet('icp_fe_xyerrors');
      const roles = set.text('role');
      const standards = (column: string) =>
        set
          .text(column)
          .filter((_, i) => roles[i] === 'standard')
          .map(Number);
      const fit = york(
        standards('nominal_mg_L'),
        standards('cps'),
        standards('u_nominal_mg_L'),
        standards('u_cps'),
      );
      expectBlock(blockAt(set.results, 'york_both_errors'), yorkBlock(fit), closedForm);
    });

    it('York: level means of the four lines of an ICP-OES run, u(x) 0.5 % as the reference assumes', () => {
      const set = openSet('icpoes_fe_run');
      const [line, type] = [set.text('line'), set.text('type')];
      for (const name of Object.keys(blockAt(set.results, 'by_line'))) {
        const chosen = line.flatMap((l, i) => (l === name && type[i] === 'standard' ? [i] : []));
        const x = chosen.map((i) => Number(set.text('nominal_mg_L')[i]));
        const levels = grouped(
          chosen.map((i) => Number(set.text('is_corrected_cps')[i])),
          x.map(String),
        );
        const means = levels.map((g) => g.reduce((a, b) => a + b, 0) / g.length);
        const uMeans = levels.map((g, k) =>
          Math.sqrt(g.reduce((a, v) => a + (v - means[k]!) ** 2, 0) / (g.length - 1) / g.length),
        );
        const nominal = [...new Set(x)];
        const fit = york(
          nominal,
          means,
          nominal.map((v) => 0.005 * v),
          uMeans,
        );
        expectBlock(blockAt(set.results, 'by_line', name, 'york_level_means'), yorkBlock(fit), closedForm);
      }
    });

    it('two methods on 605 soils: plain line, Deming, Passing–Bablok on the first 60', () => {
      const set = openSet('kola_two_methods');
      for (const element of ['Fe', 'Na']) {
        const x = set.numbers(`${element}_xrf`);
        const y = set.numbers(`${element}_inaa`);
        const line = fitLine(x, y);
        expectBlock(
          blockAt(set.results, element, 'ols'),
          {
            intercept: line.intercept,
            slope: line.slope,
            se_intercept: Math.sqrt(line.varianceIntercept),
            se_slope: Math.sqrt(line.varianceSlope),
            residual_sd: line.residualStandardDeviation,
            r_squared: line.rSquared,
          },
          closedForm,
        );
        expectBlock(blockAt(set.results, element, 'deming_lambda1'), demingBlock(x, y), closedForm);
        expectBlock(
          blockAt(set.results, `${element}_first_60_passing_bablok`),
          passingBablokBlock(x.slice(0, 60), y.slice(0, 60)),
          closedForm,
        );
      }
      expect(set.numbers('Fe_xrf')).toHaveLength(605);
    });
  },
);
