import { describe, expect, it } from 'vitest';
import { nestedAnalysis } from '../../../src/statistics/analysis-of-variance/nested.js';
import { satterthwaiteDegreesOfFreedom } from '../../../src/statistics/analysis-of-variance/satterthwaite.js';
import { twoWayAnalysis } from '../../../src/statistics/analysis-of-variance/two-way-crossed.js';
import { type Computed, expectBlock } from '../../support/expect-block.js';
import {
  blockAt,
  classicalSet,
  grouped,
  type Json,
  type JsonObject,
  openDataFolder,
  openSet,
} from '../../support/reference-sets.js';
import { computedComponents, computedOneWay, computedTable } from './one-way-block.js';

const closedForm = () => ({ relative: 1e-10 });

/** The parts of a one-way block that are tested here; tests of homogeneity have tests of their own. */
const oneWayKeys = [
  'groups',
  'N',
  'n_per_group',
  'n0',
  'group_means',
  'group_sds',
  'grand_mean',
  'anova',
  'total_SS',
  'r_squared',
  'components',
  'grand_mean_se',
  'grand_mean_ci95_t_between_df',
];
const testedElsewhere = [
  'cochran',
  'mandel',
  'bartlett',
  'levene_median',
  'levene_mean',
  'fligner_killeen',
  'welch_anova',
  'kruskal_wallis',
];

function expectOneWay(block: JsonObject, groups: readonly (readonly number[])[]): void {
  const keys = Object.keys(block);
  expect(keys.filter((key) => !oneWayKeys.includes(key) && !testedElsewhere.includes(key))).toEqual([]);
  const part = Object.fromEntries(keys.filter((k) => oneWayKeys.includes(k)).map((k) => [k, block[k]!]));
  expectBlock(part, computedOneWay(groups), closedForm);
}

const oneWaySets: [string, string, string, string][] = [
  ['dyestuff', 'yield_g', 'batch', 'one_way'],
  ['dyestuff2', 'yield_simulated', 'batch', 'one_way'],
  ['gravity', 'g_minus_980000_1e3cm_s2', 'series', 'one_way'],
  ['rail', 'travel_ns_minus_36100', 'rail', 'one_way'],
  ['morley', 'speed_km_s_minus_299000', 'experiment', 'one_way'],
  ['igf-control', 'conc_ng_mL', 'lot', 'one_way_lots'],
];

describe('analysis of variance of the classical data sets, against R', () => {
  it.each(oneWaySets)('%s: one-way table and components', (name, values, group, block) => {
    const set = classicalSet(name);
    expectOneWay(blockAt(set.results, block), bySortedName(set.numbers(values), set.text(group)));
  });

  it('pottery: one-way table of each element by site', () => {
    const set = classicalSet('pottery-aas');
    const blocks = Object.entries(set.results).filter(
      ([, block]) => hasKey(block, 'anova') || hasKey(block, 'one_way'),
    );
    expect(blocks.length).toBeGreaterThan(0);
    for (const [element, block] of blocks) {
      const inner = hasKey(block, 'one_way') ? blockAt(block, 'one_way') : (block as JsonObject);
      const groups = bySortedName(set.numbers(element), set.text('site'));
      expectOneWay(inner, groups);
    }
  });

  it('pastes: nested in two depths', () => {
    const set = classicalSet('pastes');
    expectNested(
      blockAt(set.results, 'nested_anova'),
      set.numbers('strength'),
      ['batch', 'cask'].map((name) => ({ name, levels: set.text(name) })),
    );
  });

  it('co-operative trial: nested in two depths and one-way for every specimen', () => {
    const set = classicalSet('coop-trial');
    const specimens = set.text('specimen');
    for (const [specimen, block] of Object.entries(blockAt(set.results, 'by_specimen'))) {
      const rows = specimens.flatMap((s, i) => (s === specimen ? [i] : []));
      const pick = (column: string) => rows.map((i) => set.text(column)[i]!);
      const values = pick('conc_g_kg').map(Number);
      const factors = ['lab', 'batch'].map((name) => ({ name, levels: pick(name) }));
      expectNested(blockAt(block, 'nested_anova'), values, factors);
      expectOneWay(blockAt(block, 'one_way_labs_all_6_results'), grouped(values, pick('lab')));
      const [lab, batch, residual] = nestedAnalysis(values, factors).strata.map((s) => s.variance);
      const precision = {
        s_r: Math.sqrt(residual!),
        s_I: Math.sqrt(residual! + batch!),
        s_R: Math.sqrt(residual! + batch! + lab!),
      };
      expectBlock(
        blockAt(block, 'precision'),
        { ...precision, 'r_limit_2.8': 2.8 * precision.s_r, 'R_limit_2.8': 2.8 * precision.s_R },
        closedForm,
      );
    }
  });

  it('penicillin: two-way crossed without replication', () => {
    const set = classicalSet('penicillin');
    const [plate, sample] = ['plate', 'sample'].map((name) => ({ name, levels: set.text(name) }));
    const found = twoWayAnalysis(set.numbers('diameter_mm'), plate!, sample!);
    expectBlock(set.results.two_way_anova!, tableOf(found.strata), closedForm);
    expectBlock(
      set.results.components_anova!,
      Object.fromEntries(found.strata.map((s) => [s.name, s.varianceUnconstrained])),
      closedForm,
    );
  });
});

/** Groups in the order of their names as text, as the reference lists them. */
function bySortedName(values: readonly number[], names: readonly string[]): number[][] {
  const order = [...new Set(names)].sort();
  return order.map((name) => values.filter((_, i) => names[i] === name));
}

function hasKey(block: Json, key: string): boolean {
  return block !== null && typeof block === 'object' && key in block;
}

function tableOf(strata: ReturnType<typeof twoWayAnalysis>['strata'], names?: readonly string[]): Computed {
  return strata.map((s, k) => ({
    term: names?.[k] ?? (s.name === 'residual' ? 'Residuals' : s.name),
    df: s.degreesOfFreedom,
    SS: s.sumOfSquares,
    MS: s.meanSquare,
    F: s.f,
    p: s.pValue,
  }));
}

function expectNested(
  block: JsonObject,
  values: readonly number[],
  factors: readonly { name: string; levels: readonly string[] }[],
): void {
  const { strata, totalVariance } = nestedAnalysis(values, factors);
  const named = (of: (k: number) => number) => Object.fromEntries(strata.map((s, k) => [s.name, of(k)]));
  const untruncated = strata.reduce((total, s) => total + s.varianceUnconstrained, 0);
  // σ² total as a combination of mean squares: solve the coefficients of E(MS) from the outside in.
  const coefficients = strata.map(() => 0);
  strata.forEach((_, j) => {
    const before = strata.reduce(
      (t, s, k) => (k < j ? t + coefficients[k]! * s.expectedMeanSquare[j]! : t),
      0,
    );
    coefficients[j] = (1 - before) / strata[j]!.expectedMeanSquare[j]!;
  });
  const computed: { [key: string]: Computed } = {
    anova: strata.map((s) => ({
      term: s.name,
      df: s.degreesOfFreedom,
      SS: s.sumOfSquares,
      MS: s.meanSquare,
      ...(s.f === null ? {} : { F_vs_next: s.f, p_vs_next: s.pValue }),
    })),
    ems_coefficients: { columns: strata.map((s) => s.name), rows: strata.map((s) => s.expectedMeanSquare) },
    components_anova: named((k) => strata[k]!.varianceUnconstrained),
    sds_anova_truncated: named((k) => Math.sqrt(strata[k]!.variance)),
    total_variance_untruncated: untruncated,
    total_sd_truncated: Math.sqrt(totalVariance),
    satterthwaite_df_of_untruncated_total: satterthwaiteDegreesOfFreedom(
      strata.map((s, k) => ({
        coefficient: coefficients[k]!,
        meanSquare: s.meanSquare,
        degreesOfFreedom: s.degreesOfFreedom,
      })),
    ),
  };
  expectBlock(block, computed, closedForm);
}

describe.skipIf(!openDataFolder)(
  'analysis of variance of the open data (needs MELTBOOK_REFERENCE_DATA)',
  () => {
    it('serum calcium: two-way crossed, unbalanced, fixed model', () => {
      const set = openSet('serum_calcium_labs');
      const lab = { name: 'factor(lab)', levels: set.text('lab') };
      const solution = { name: 'factor(sol)', levels: set.text('sol') };
      const found = twoWayAnalysis(set.numbers('calcium'), lab, solution, 'fixed');
      const names = ['factor(lab)', 'factor(sol)', 'factor(lab):factor(sol)', 'Residuals'];
      expectBlock(set.results.two_way_sequential_anova!, tableOf(found.strata, names), closedForm);
    });

    it('ferrozine plates: one-way by plate at each low level and of the blanks', () => {
      const set = openSet('ferrozine_plates');
      const roles = set.text('inferred_role');
      const groupsOf = (role: string) => {
        const rows = roles.flatMap((r, i) => (r === role ? [i] : []));
        return grouped(
          rows.map((i) => Number(set.text('absorbance')[i])),
          rows.map((i) => set.text('plate')[i]!),
        );
      };
      for (const [level, block] of Object.entries(blockAt(set.results, 'low_levels'))) {
        expectOneWay(block as JsonObject, groupsOf(level));
      }
      expectOneWay(blockAt(set.results, 'blanks', 'one_way_plates'), groupsOf('blank'));
    });

    it('copper duplicates: one-way by sample, plain and logarithmic', () => {
      const set = openSet('gsc_duplicates_cu');
      const pairs = set
        .numbers('analytical_duplicate_mg_kg')
        .map((first, i) => [first, set.numbers('routine_mg_kg')[i]!]);
      expectTableAndComponents(blockAt(set.results, 'one_way'), pairs);
      expectTableAndComponents(
        blockAt(set.results, 'log10_one_way'),
        pairs.map((pair) => pair.map(Math.log10)),
      );
    });

    it('Kola duplicates: one-way by sample for every analyte, plain and logarithmic', () => {
      const set = openSet('kola_analytical_duplicates');
      const [group, analyte] = [set.text('method'), set.text('analyte')];
      const first = set.text('first');
      const second = set.text('second');
      const names = Object.keys(set.results);
      expect(names.length).toBeGreaterThan(10);
      for (const name of names) {
        const rows = analyte.flatMap((a, i) =>
          `${group[i]}:${a}` === name && first[i] && second[i] ? [i] : [],
        );
        const pairs = rows.map((i) => [Number(first[i]), Number(second[i])]);
        const block = blockAt(set.results, name);
        if (block.one_way) expectTableAndComponents(block.one_way as JsonObject, pairs);
        if (block.ln_one_way) {
          expectTableAndComponents(
            block.ln_one_way as JsonObject,
            pairs.map((pair) => pair.map(Math.log)),
          );
        }
      }
    });

    it('an ICP-OES run: standards, blanks and the internal standard', () => {
      const set = openSet('icpoes_fe_run');
      const rows = set.text('line').map((line, i) => ({
        line,
        type: set.text('type')[i]!,
        sequence: set.text('sequence')[i]!,
        level: set.text('nominal_mg_L')[i]!,
        raw: set.text('raw_cps')[i]!,
        ratio: set.text('is_corrected_cps')[i]!,
      }));
      for (const [line, block] of Object.entries(blockAt(set.results, 'by_line'))) {
        const standards = rows.filter((row) => row.line === line && row.type === 'standard');
        expectTableAndComponents(
          blockAt(block, 'one_way_standards'),
          grouped(
            standards.map((row) => Number(row.ratio)),
            standards.map((row) => row.level),
          ),
        );
        const blanks = rows.filter((row) => row.line === line && row.type.endsWith('blank'));
        expectTableAndComponents(
          blockAt(block, 'blanks_raw_cps'),
          grouped(
            blanks.map((row) => Number(row.raw)),
            blanks.map((row) => row.sequence),
          ),
        );
      }
      const scandium = rows.filter((row) => row.line.startsWith('Sc'));
      expectTableAndComponents(
        blockAt(set.results, 'internal_standard_raw_cps', 'one_way_solutions'),
        grouped(
          scandium.map((row) => Number(row.raw)),
          scandium.map((row) => row.sequence),
        ),
      );
    });
  },
);

function expectTableAndComponents(block: JsonObject, groups: readonly (readonly number[])[]): void {
  expectBlock(block.anova!, computedTable(groups), closedForm);
  if (block.components) expectBlock(block.components, computedComponents(groups), closedForm);
}
