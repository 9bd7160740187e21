import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  classicalSet,
  classicalSetNames,
  type Json,
  openDataFolder,
  openSet,
  readReference,
} from '../../support/reference-sets.js';
import { chartOutside, outside as outsideSamples } from './sample-block.js';

/** Where the figures at a path of the reference results are tested, or why they are outside the statistics layer. */
type Rule = readonly [path: RegExp, place: string];

const outside: Rule[] = [
  [
    /(^|\/)(how|formula|model|software|skipped|reason|unit)$/,
    'words that say how a figure was made, or its unit',
  ],
  [/^[^/]+\/(response|group)$/, 'names of columns'],
  [
    /fligner_killeen|kruskal_wallis|wilcoxon/,
    'rank tests are not asked for; spread and location have tests of their own',
  ],
  [/welch_anova/, "Welch's one-way test of means is not asked for; groups are random here"],
  [
    /huber_M_fixed_MAD|\/Sn(\/|$)/,
    "not asked for: the robust pair is Algorithm A or Huber's proposal 2, the robust scale is Qn",
  ],
  [/iterations_to_1e15/, "the reference's own count of steps"],
  [/logistic_run_1/, 'non-linear regression is not asked for'],
  [/sd_from_mean_range_d2/, 'standard deviations from ranges are not asked for'],
  [/ppoints/, 'plotting positions of R; ours are those of half-normal scores'],
  [/power_anova/, 'power of the analysis of variance of fixed groups is not asked for'],
  [
    new RegExp(`/(chart|trend)/(${chartOutside.join('|')})(/|$)`),
    'control limits and signals belong to the charts of the validation layer',
  ],
  [
    /horwitz_target_sd|z_scores_first_5_labs|u_of_x_star_negligible/,
    'proficiency rounds belong to the validation layer',
  ],
];

const tested: Rule[] = [
  [/\/?(lme4_reml|lme4_ml|lme4_profile_ci95|reml_exact)\//, 'mixed-models.test.ts'],
  [
    /trend_with_age|split_plot_anova|recovery_t_test_of_slope_1|sd_versus_level|abs_difference_versus_mean/,
    'trends.test.ts',
  ],
  [/XYZ_pooled\/anova|standards_triplicates_pooled_sd|\/trend\/(slope_per_run|se|p)$/, 'trends.test.ts'],
  [
    /deming_lambda1|passing_bablok|^pearson_york\/york\/|york_both_errors|york_level_means/,
    'both-axes.test.ts',
  ],
  [/^kola_two_methods\/\w+\/ols\/|multiple_regression/, 'both-axes.test.ts'],
  [/^(arsenic_water|formaldehyde|lactic_acid)\/(linear|weighted)\w*\//, 'calibration.test.ts'],
  [/\/(ols\w*|wls\w*|casein_on_protein)\/|standard_means\//, 'calibration.test.ts'],
  [/\/(description|density\/description)\/|\/by_level\/|standard_sds/, 'samples.test.ts'],
  [/(residual_normality|normality_all|normality)\//, 'samples.test.ts'],
  [
    /\/(grubbs|grubbs_lab_means|cochran|cochran_on_duplicates|mandel|bartlett|levene_median|levene_mean)\//,
    'samples.test.ts',
  ],
  [/\/(robust|robust_all|robust_lab_means|algorithm_A)\//, 'samples.test.ts'],
  [/\/(chart|internal_standard_raw_cps\/trend)\//, 'samples.test.ts'],
  [
    /^wholemeal_copper\/(one_sample_t_mu_3\.1|log_scale)\/|^geopt_rounds\/[^/]+\/[^/]+\/(n|mean|sd)$/,
    'samples.test.ts',
  ],
  [/^gsc_crm_cu\/by_crm\/[^/]+\/(n|mean|sd)$/, 'samples.test.ts'],
  [/nested_anova|\/precision\/|two_way_(sequential_)?anova|components_anova/, 'analysis-of-variance.test.ts'],
  [/one_way(_\w+)?\/|low_levels\/|blanks_raw_cps\/(anova|components)/, 'analysis-of-variance.test.ts'],
  [/sample_(sequences|mean_is_corrected_cps)/, 'calibration.test.ts'],
  [/blank_level\/(three_sd|epa_style_t99_sd)|pooled_rsd_percent_XYZ/, 'trends.test.ts'],
  [/^tests_and_power\//, 'comparison.test.ts'],
  [
    /^(dnase_elisa|gsc_duplicates_cu|kola_analytical_duplicates|kola_two_methods|milk_composition)\//,
    'comparison.test.ts',
  ],
];

function leaves(block: Json, path: string): string[] {
  if (block === null || typeof block !== 'object') return [path];
  if (Array.isArray(block)) return [...new Set(block.flatMap((entry) => leaves(entry, `${path}/[]`)))];
  return Object.entries(block).flatMap(([key, value]) => leaves(value, `${path}/${key}`));
}

const powerAndTests = readReference<{ results: Json }>('statistics/tests-and-power').results;
const classical = [
  ...leaves(powerAndTests, 'tests_and_power'),
  ...classicalSetNames().flatMap((name) => leaves(classicalSet(name).results, name.replaceAll('-', '_'))),
];
const open = openDataFolder
  ? readdirSync(openDataFolder)
      .map((file) => /^(.*)\.expected\.json$/.exec(file)?.[1])
      .filter((name) => name !== undefined && !['distributions', 'tests_and_power'].includes(name))
      .filter((name) => !classicalSetNames().includes(name!.replaceAll('_', '-')))
      .flatMap((name) => leaves(openSet(name!).results, name!))
  : [];

function placeOf(path: string): string | undefined {
  return [...outside, ...tested].find(([pattern]) => pattern.test(path))?.[1];
}

describe('reference results', () => {
  it('has a place for every figure of the classical sets: tested, or outside with a reason', () => {
    expect(classical.length).toBeGreaterThan(1000);
    expect(classical.filter((path) => placeOf(path) === undefined)).toEqual([]);
  });

  it('names files that exist', () => {
    const files = [...new Set(tested.map(([, file]) => file))];
    expect(files.filter((file) => !existsSync(join(__dirname, file)))).toEqual([]);
  });

  it('leaves out the keys that the tests of samples leave out, and no others of theirs', () => {
    for (const key of outsideSamples) {
      expect(
        outside.some(([pattern]) => pattern.test(`set/robust/${key}/x`) || pattern.test(`set/${key}`)),
        key,
      ).toBe(true);
    }
  });
});

describe.skipIf(!openDataFolder)('reference results of the open data (needs MELTBOOK_REFERENCE_DATA)', () => {
  it('has a place for every figure', () => {
    expect(open.length).toBeGreaterThan(1000);
    expect(open.filter((path) => placeOf(path) === undefined)).toEqual([]);
  });

  it('uses every rule', () => {
    const all = [...classical, ...open, ...leaves(powerAndTests, 'tests_and_power')];
    const used = new Set(all.map((path) => [...outside, ...tested].find(([pattern]) => pattern.test(path))));
    expect(
      [...outside, ...tested].filter((rule) => !used.has(rule)).map(([pattern]) => String(pattern)),
    ).toEqual([]);
  });
});
