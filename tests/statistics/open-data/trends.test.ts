import { describe, expect, it } from 'vitest';
import { nestedAnalysis } from '../../../src/statistics/analysis-of-variance/nested.js';
import { oneWayAnalysis } from '../../../src/statistics/analysis-of-variance/one-way.js';
import { twoWayAnalysis } from '../../../src/statistics/analysis-of-variance/two-way-crossed.js';
import { mean } from '../../../src/statistics/descriptive/mean.js';
import { standardDeviation } from '../../../src/statistics/descriptive/standard-deviation.js';
import { fSurvival } from '../../../src/statistics/distributions/f.js';
import { studentTQuantile, studentTSurvival } from '../../../src/statistics/distributions/student-t.js';
import { fitLine, type LineFit } from '../../../src/statistics/regression/line.js';
import { expectBlock } from '../../support/expect-block.js';
import {
  blockAt,
  classicalSet,
  grouped,
  type JsonObject,
  openDataFolder,
  openSet,
} from '../../support/reference-sets.js';
import { computedTable } from './one-way-block.js';

const closedForm = () => ({ relative: 1e-10 });
const twoSided = (t: number, nu: number) => 2 * studentTSurvival(Math.abs(t), nu);
const slopeP = (fit: LineFit, against = 0) =>
  twoSided((fit.slope - against) / Math.sqrt(fit.varianceSlope), fit.degreesOfFreedom);

/** The slope of values in their order, as the reference's charts report it. */
function expectOrderTrend(block: JsonObject, values: readonly number[]): void {
  const fit = fitLine(
    values.map((_, i) => i + 1),
    values,
  );
  const found = { slope_per_run: fit.slope, se: Math.sqrt(fit.varianceSlope), p: slopeP(fit) };
  // The mean of long series is large beside the trend: R's own rounding shows at 1e-10.
  expectBlock(block, found, () => ({ relative: 1e-9 }));
}

describe('trends and a split plot of the classical sets, against R', () => {
  it('igf control: trend with the age of the tracer', () => {
    const set = classicalSet('igf-control');
    const fit = fitLine(set.numbers('tracer_age_day'), set.numbers('conc_ng_mL'));
    const seIntercept = Math.sqrt(fit.varianceIntercept);
    expectBlock(
      blockAt(set.results, 'trend_with_age'),
      {
        coefficients: { '(Intercept)': fit.intercept, tracer_age_day: fit.slope },
        se: { '(Intercept)': seIntercept, tracer_age_day: Math.sqrt(fit.varianceSlope) },
        p: {
          '(Intercept)': twoSided(fit.intercept / seIntercept, fit.degreesOfFreedom),
          tracer_age_day: slopeP(fit),
        },
        residual_sd: fit.residualStandardDeviation,
      },
      closedForm,
    );
  });

  it('cake: whole plots by the nested table, split plots by the crossed one', () => {
    const set = classicalSet('cake');
    const values = set.numbers('angle_degree');
    const recipe = { name: 'recipe', levels: set.text('recipe') };
    const batch = { name: 'batch', levels: set.text('replicate') };
    const temperature = { name: 'temp', levels: set.text('temperature_F') };
    const [ofRecipe, ofBatch, within] = nestedAnalysis(values, [recipe, batch]).strata;
    const [, ofTemperature, interaction] = twoWayAnalysis(values, recipe, temperature, 'fixed').strata;
    const df = within!.degreesOfFreedom - ofTemperature!.degreesOfFreedom - interaction!.degreesOfFreedom;
    const ss = within!.sumOfSquares - ofTemperature!.sumOfSquares - interaction!.sumOfSquares;
    const line = (
      term: string,
      stratum: { degreesOfFreedom: number; sumOfSquares: number; meanSquare: number },
    ) => {
      const f = stratum.meanSquare / (ss / df);
      const p = fSurvival(f, stratum.degreesOfFreedom, df);
      return {
        term,
        df: stratum.degreesOfFreedom,
        SS: stratum.sumOfSquares,
        MS: stratum.meanSquare,
        F: f,
        p,
      };
    };
    expectBlock(
      blockAt(set.results, 'split_plot_anova'),
      {
        'Error: factor(recipe_replicate)': [
          {
            term: 'recipe',
            df: ofRecipe!.degreesOfFreedom,
            SS: ofRecipe!.sumOfSquares,
            MS: ofRecipe!.meanSquare,
            F: ofRecipe!.f,
            p: ofRecipe!.pValue,
          },
          {
            term: 'Residuals',
            df: ofBatch!.degreesOfFreedom,
            SS: ofBatch!.sumOfSquares,
            MS: ofBatch!.meanSquare,
            F: null,
            p: null,
          },
        ],
        'Error: Within': [
          line('temp', ofTemperature!),
          line('recipe:temp', interaction!),
          { term: 'Residuals', df, SS: ss, MS: ss / df, F: null, p: null },
        ],
      },
      closedForm,
    );
  });
});

describe.skipIf(!openDataFolder)('trends of the open data (needs MELTBOOK_REFERENCE_DATA)', () => {
  it('arsenic: t test of slope 1', () => {
    const set = openSet('arsenic_water');
    const fit = fitLine(set.numbers('actual'), set.numbers('measured'));
    const t = (fit.slope - 1) / Math.sqrt(fit.varianceSlope);
    expectBlock(
      blockAt(set.results, 'recovery_t_test_of_slope_1'),
      { t, p: twoSided(t, fit.degreesOfFreedom) },
      closedForm,
    );
  });

  it('cadmium spikes: standard deviation against level', () => {
    const set = openSet('epa_cd111_spikes');
    const x = set.numbers('spike_ng_L');
    const levels = [...new Set(x)];
    const sds = grouped(set.numbers('found_ng_L'), x.map(String)).map((g) => {
      const mean = g.reduce((a, b) => a + b, 0) / g.length;
      return Math.sqrt(g.reduce((a, v) => a + (v - mean) ** 2, 0) / (g.length - 1));
    });
    const fit = fitLine(levels, sds);
    expectBlock(
      blockAt(set.results, 'sd_versus_level'),
      {
        intercept: fit.intercept,
        slope: fit.slope,
        se: { '(Intercept)': Math.sqrt(fit.varianceIntercept), x: Math.sqrt(fit.varianceSlope) },
        p_slope: slopeP(fit),
      },
      closedForm,
    );
  });

  it('cadmium spikes: three standard deviations of the blank level, and t times it', () => {
    const set = openSet('epa_cd111_spikes');
    const x = set.numbers('spike_ng_L');
    const sd = standardDeviation(set.numbers('found_ng_L').filter((_, i) => x[i] === 0));
    const { three_sd, epa_style_t99_sd } = blockAt(set.results, 'blank_level');
    expect(3 * sd).toAgreeWithin(three_sd as number, 1e-10);
    expect(studentTQuantile(0.99, 6) * sd).toAgreeWithin(epa_style_t99_sd as number, 1e-10);
  });

  it('copper duplicates: absolute difference against the mean', () => {
    const set = openSet('gsc_duplicates_cu');
    const first = set.numbers('analytical_duplicate_mg_kg');
    const second = set.numbers('routine_mg_kg');
    const fit = fitLine(
      first.map((v, i) => (v + second[i]!) / 2),
      first.map((v, i) => Math.abs(v - second[i]!)),
    );
    expectBlock(
      blockAt(set.results, 'abs_difference_versus_mean'),
      {
        intercept: fit.intercept,
        slope: fit.slope,
        se: { '(Intercept)': Math.sqrt(fit.varianceIntercept), m: Math.sqrt(fit.varianceSlope) },
      },
      closedForm,
    );
  });

  it('copper in control materials: trend of each in file order, one-way table of three', () => {
    const set = openSet('gsc_crm_cu');
    const crm = set.text('crm');
    const copper = set.numbers('Cu_mg_kg');
    const of = (name: string) => copper.filter((_, i) => crm[i] === name);
    for (const [name, block] of Object.entries(blockAt(set.results, 'by_crm'))) {
      if (typeof block === 'object' && block !== null && 'chart' in block) {
        expectOrderTrend(blockAt(block, 'chart', 'trend'), of(name));
      }
    }
    const pooled = ['X', 'Y', 'Z'].map(of).map((values) => {
      const nu = values.length - 1;
      return { nu, square: nu * (standardDeviation(values) / mean(values)) ** 2 };
    });
    const nu = pooled.reduce((sum, group) => sum + group.nu, 0);
    expect(100 * Math.sqrt(pooled.reduce((sum, group) => sum + group.square, 0) / nu)).toAgreeWithin(
      set.results.pooled_rsd_percent_XYZ as number,
      1e-10,
    );
    expectBlock(
      blockAt(set.results, 'XYZ_pooled').anova!,
      computedTable(['X', 'Y', 'Z'].map(of)),
      closedForm,
    );
  });

  it('Kola control standard: trend of every analyte over its insertions', () => {
    const set = openSet('kola_control_standard');
    const [method, analyte] = [set.text('method'), set.text('analyte')];
    const value = set.text('value');
    // Analytes mostly below their detection limit have no chart in the reference.
    const names = Object.keys(set.results).filter((name) => 'chart' in blockAt(set.results, name));
    expect(names.length).toBeGreaterThan(20);
    for (const name of names) {
      const rows = analyte.flatMap((a, i) => (`${method[i]}:${a}` === name && value[i] !== '' ? [i] : []));
      expectOrderTrend(
        blockAt(set.results, name, 'chart', 'trend'),
        rows.map((i) => Number(value[i])),
      );
    }
  });

  it('an ICP-OES run: trend of the internal standard over the solutions', () => {
    const set = openSet('icpoes_fe_run');
    const rows = set.text('line').flatMap((line, i) => (line.startsWith('Sc') ? [i] : []));
    const solutions = grouped(
      rows.map((i) => Number(set.text('raw_cps')[i])),
      rows.map((i) => set.text('sequence')[i]!),
    );
    expectOrderTrend(
      blockAt(set.results, 'internal_standard_raw_cps', 'trend', 'trend'),
      solutions.map((g) => g.reduce((a, b) => a + b, 0) / g.length),
    );
  });

  it('ferrozine plates: pooled standard deviation of the triplicates', () => {
    const set = openSet('ferrozine_plates');
    const roles = set.text('inferred_role');
    const plate = set.text('plate');
    const rows = roles.flatMap((role, i) => (role.startsWith('standard_row') ? [i] : []));
    const groups = grouped(
      rows.map((i) => Number(set.text('absorbance')[i])),
      rows.map((i) => `${plate[i]}/${roles[i]}`),
    );
    expect(Math.sqrt(oneWayAnalysis(groups).withinVariance)).toAgreeWithin(
      set.results.standards_triplicates_pooled_sd as number,
      1e-10,
    );
  });
});
