import { describe, expect, it } from 'vitest';
import { oneSampleTTest } from '../../../src/statistics/comparison/one-sample-t-test.js';
import { mean } from '../../../src/statistics/descriptive/mean.js';
import { standardDeviation } from '../../../src/statistics/descriptive/standard-deviation.js';
import { grubbsTest } from '../../../src/statistics/screening/grubbs.js';
import { shapiroWilk } from '../../../src/statistics/screening/shapiro-wilk.js';
import { trend } from '../../../src/statistics/screening/trend.js';
import {
  blockAt,
  classicalSet,
  type JsonObject,
  openDataFolder,
  openSet,
  type ReferenceSet,
} from '../../support/reference-sets.js';
import {
  algorithmABlock,
  chartOutside,
  cochran,
  description,
  expectRobust,
  expectSample,
  grubbs,
  homogeneity,
  keep,
  mandel,
  normality,
  sequence,
  tTestBlock,
} from './sample-block.js';

/** Values of a column in groups, the groups in the order of their names as text. */
function groupsOf(set: ReferenceSet, values: string, names: string): number[][] {
  const [numbers, keys] = [set.numbers(values), set.text(names)];
  return [...new Set(keys)].sort().map((key) => numbers.filter((_, i) => keys[i] === key));
}

function residuals(groups: readonly (readonly number[])[]): number[] {
  return groups.flatMap((group) => group.map((x) => x - mean(group)));
}

/** The tests of variances and of outlying groups within a one-way block. */
function expectGroupTests(block: JsonObject, groups: readonly (readonly number[])[]): void {
  expectSample(keep(block, ['bartlett', 'levene_median', 'levene_mean']), homogeneity(groups));
  if (block.cochran) expectSample(block.cochran, cochran(groups));
  if (block.mandel) expectSample(block.mandel, mandel(groups));
}

describe('samples of the classical data sets, against R', () => {
  it.each([
    ['newcomb', 'deviation_ns'],
    ['abbey-nickel', 'Ni_ug_g'],
    ['wholemeal-copper', 'Cu_ug_g'],
    ['igf-control', 'conc_ng_mL'],
  ])('%s: description, normality, outliers, robust estimates', (name, column) => {
    const set = classicalSet(name);
    const values = set.numbers(column);
    expectSample(set.results.description, description(values));
    expectSample(set.results.normality, normality(values));
    expectSample(set.results.grubbs, grubbs(values));
    expectRobust(set.results.robust, values);
  });

  it('wholemeal-copper: t test of a stated value, logarithms, and the sample without its largest value', () => {
    const set = classicalSet('wholemeal-copper');
    const values = set.numbers('Cu_ug_g');
    expectSample(set.results['one_sample_t_mu_3.1'], tTestBlock(oneSampleTTest(values, { hypothesis: 3.1 })));
    const logs = values.map(Math.log);
    expectSample(set.results.log_scale, {
      mean: mean(logs),
      sd: standardDeviation(logs),
      shapiro_W: shapiroWilk(logs).statistic,
    });
    const rest = values.filter((x) => x !== Math.max(...values));
    const without = blockAt(set.results, 'without_max');
    expectSample(without.description, description(rest));
    expectSample(without.grubbs, grubbs(rest));
  });

  it('igf-control: lots with unequal variances, and the trend with the age of the tracer', () => {
    const set = classicalSet('igf-control');
    expectGroupTests(blockAt(set.results, 'one_way_lots'), groupsOf(set, 'conc_ng_mL', 'lot'));
    const found = trend(set.numbers('conc_ng_mL'), set.numbers('tracer_age_day'));
    const block = blockAt(set.results, 'trend_with_age');
    const name = 'tracer_age_day';
    expectSample(keep(blockAt(block, 'coefficients'), [name]), { [name]: found.slope });
    expectSample(keep(blockAt(block, 'se'), [name]), { [name]: found.standardUncertainty });
    expectSample(keep(blockAt(block, 'p'), [name]), { [name]: found.pValue });
  });

  it.each([
    ['dyestuff', 'yield_g', 'batch'],
    ['dyestuff2', 'yield_simulated', 'batch'],
    ['gravity', 'g_minus_980000_1e3cm_s2', 'series'],
    ['rail', 'travel_ns_minus_36100', 'rail'],
    ['morley', 'speed_km_s_minus_299000', 'experiment'],
  ])('%s: all values, tests of the groups, normality of the residuals', (name, column, factor) => {
    const set = classicalSet(name);
    const values = set.numbers(column);
    const groups = groupsOf(set, column, factor);
    expectSample(set.results.description, description(values));
    expectRobust(set.results.robust_all, values);
    expectSample(set.results.residual_normality, normality(residuals(groups)));
    expectGroupTests(blockAt(set.results, 'one_way'), groups);
    if (set.results.normality_all) expectSample(set.results.normality_all, normality(values));
  });

  it('pottery-aas: tests of the sites and normality of the residuals, element by element', () => {
    const set = classicalSet('pottery-aas');
    const elements = Object.keys(set.results);
    expect(elements).toEqual(['Al', 'Fe', 'Mg', 'Ca', 'Na']);
    for (const element of elements) {
      const groups = groupsOf(set, element, 'site');
      expectGroupTests(blockAt(set.results, element, 'one_way'), groups);
      expectSample(blockAt(set.results, element).residual_normality, normality(residuals(groups)));
    }
  });

  it('coop-trial: laboratories of every specimen', () => {
    const set = classicalSet('coop-trial');
    const [lab, specimen, batch] = ['lab', 'specimen', 'batch'].map((name) => set.text(name));
    const values = set.numbers('conc_g_kg');
    const blocks = Object.entries(blockAt(set.results, 'by_specimen'));
    expect(blocks).toHaveLength(7);
    for (const [name, block] of blocks) {
      const rows = values.flatMap((_, i) => (specimen![i] === name ? [i] : []));
      const split = (key: (i: number) => string) =>
        [...new Set(rows.map(key))]
          .sort()
          .map((k) => rows.filter((i) => key(i) === k).map((i) => values[i]!));
      const labs = split((i) => lab![i]!);
      const means = labs.map(mean);
      const results = blockAt(block);
      expectSample(results.description, description(rows.map((i) => values[i]!)));
      expectGroupTests(blockAt(block, 'one_way_labs_all_6_results'), labs);
      expectSample(results.grubbs_lab_means, grubbs(means));
      expectRobust(results.robust_lab_means, means);
      expectSample(results.cochran_on_duplicates, cochran(split((i) => `${lab![i]}/${batch![i]}`)));
    }
  });

  it('pastes, penicillin, milk-composition: all values', () => {
    const pastes = classicalSet('pastes');
    expectSample(pastes.results.description, description(pastes.numbers('strength')));
    const batch = pastes.text('batch');
    const casks = pastes.text('cask').map((cask, i) => `${batch[i]}/${cask}`);
    const strength = pastes.numbers('strength');
    const groups = [...new Set(casks)].map((cask) => strength.filter((_, i) => casks[i] === cask));
    expectSample(pastes.results.residual_normality, normality(residuals(groups)));
    const penicillin = classicalSet('penicillin');
    expectSample(penicillin.results.description, description(penicillin.numbers('diameter_mm')));
    const milk = classicalSet('milk-composition');
    const density = milk.numbers('density');
    const block = blockAt(milk.results, 'density');
    expectSample(block.description, description(density));
    expectRobust(block.robust, density);
    expectSample(block.normality, normality(density));
  });
});

describe.skipIf(!openDataFolder)('samples of the open data (needs MELTBOOK_REFERENCE_DATA)', () => {
  it('arsenic_water: levels and tests of their variances', () => {
    const set = openSet('arsenic_water');
    const [x, y] = [set.numbers('actual'), set.numbers('measured')];
    const levels = Object.keys(blockAt(set.results, 'by_level'));
    const groups = levels.map((level) => y.filter((_, i) => x[i] === Number(level)));
    groups.forEach((group, i) => {
      const block = blockAt(set.results, 'by_level', levels[i]!);
      expectSample(block, { n: group.length, mean: mean(group), sd: standardDeviation(group) });
    });
    expectGroupTests(blockAt(set.results, 'variance_tests'), groups);
  });

  it('epa_cd111_spikes: levels, tests of their variances, the blank level', () => {
    const set = openSet('epa_cd111_spikes');
    const [x, y] = [set.numbers('spike_ng_L'), set.numbers('found_ng_L')];
    const levels = Object.keys(blockAt(set.results, 'by_level')).map(Number);
    const groups = levels.map((level) => y.filter((_, i) => x[i] === level));
    groups.forEach((group, i) => {
      const block = blockAt(set.results, 'by_level', String(levels[i]));
      expectSample(block, { n: group.length, mean: mean(group), sd: standardDeviation(group) });
    });
    expectGroupTests(blockAt(set.results, 'variance_tests'), groups);
    expectSample(blockAt(set.results, 'blank_level').description, description(groups[0]!));
    const found = trend(groups.map(standardDeviation), levels);
    const block = blockAt(set.results, 'sd_versus_level');
    expectSample(keep(block, ['slope', 'p_slope']), { slope: found.slope, p_slope: found.pValue });
    expectSample(keep(blockAt(block, 'se'), ['x']), { x: found.standardUncertainty });
  });

  it('ferrozine_plates: plates at each low level, blanks, triplicates', () => {
    const set = openSet('ferrozine_plates');
    const role = set.text('inferred_role');
    const [plate, absorbance] = [set.text('plate'), set.numbers('absorbance')];
    const split = (wanted: string, key: (i: number) => string) => {
      const rows = absorbance.flatMap((_, i) => (role[i] === wanted ? [i] : []));
      const keys = [...new Set(rows.map(key))].sort();
      return keys.map((k) => rows.filter((i) => key(i) === k).map((i) => absorbance[i]!));
    };
    for (const [level, block] of Object.entries(blockAt(set.results, 'low_levels'))) {
      expectGroupTests(
        blockAt(block),
        split(level, (i) => plate[i]!),
      );
    }
    const blanks = split('blank', (i) => plate[i]!);
    const block = blockAt(set.results, 'blanks');
    expectGroupTests(blockAt(block, 'one_way_plates'), blanks);
    expectRobust(block.robust, blanks.flat());
    const g = grubbs(blanks.flat());
    expectSample(block.grubbs, { G: g.G!, suspect: g.suspect!, p_two_sided: g.p_two_sided! });
    const triplicates = [...'ABCDEFGH'].flatMap((r) => split(`standard_row_${r}`, (i) => plate[i]!));
    const pooled = Math.sqrt(mean(triplicates.map((t) => standardDeviation(t) ** 2)));
    expectSample({ sd: set.results.standards_triplicates_pooled_sd! }, { sd: pooled });
  });

  it('geopt_rounds: every round and analyte', () => {
    const set = openSet('geopt_rounds');
    const [round, analyte, value] = [set.text('round'), set.text('analyte'), set.text('value')];
    let blocks = 0;
    for (const [name, analytes] of Object.entries(set.results)) {
      for (const [element, block] of Object.entries(blockAt(analytes))) {
        const values = value
          .filter((v, i) => v !== '' && round[i] === name && analyte[i] === element)
          .map(Number);
        const w = shapiroWilk(values);
        const g = grubbsTest(values, 'both');
        expectSample(keep(blockAt(block), ['n', 'mean', 'sd', 'normality', 'grubbs']), {
          n: values.length,
          mean: mean(values),
          sd: standardDeviation(values),
          normality: { shapiro_W: w.statistic, p: w.pValue },
          grubbs: { G: g.statistic, suspect: values[g.suspects[0]!]!, p_two_sided: g.pValue },
        });
        expectRobust(blockAt(block).robust, values);
        blocks++;
      }
    }
    expect(blocks).toBeGreaterThan(50);
  });

  it('gsc_crm_cu: control materials in their order, three pooled', () => {
    const set = openSet('gsc_crm_cu');
    const [crm, copper] = [set.text('crm'), set.numbers('Cu_mg_kg')];
    const of = (name: string) => copper.filter((_, i) => crm[i] === name);
    for (const [name, block] of Object.entries(blockAt(set.results, 'by_crm'))) {
      const values = of(name);
      const results = blockAt(block);
      if (results.n) {
        expectSample(results, { n: values.length, mean: mean(values), sd: standardDeviation(values) });
        continue;
      }
      expectSample(results.description, description(values));
      expectSample(results.normality, normality(values));
      expectSample(results.grubbs, grubbs(values));
      expectRobust(results.robust, values);
      expectSample(keep(blockAt(results.chart!), 'all', chartOutside), sequence(values));
    }
    const groups = ['X', 'Y', 'Z'].map(of);
    expectGroupTests(blockAt(set.results, 'XYZ_pooled'), groups);
  });

  it('icpoes_fe_run: standards, blanks and the internal standard', () => {
    const set = openSet('icpoes_fe_run');
    const [line, type, level] = ['line', 'type', 'nominal_mg_L'].map((name) => set.text(name));
    const [sequenceNumber, raw, ratio] = ['sequence', 'raw_cps', 'is_corrected_cps'].map((name) =>
      set.text(name),
    );
    for (const [name, block] of Object.entries(blockAt(set.results, 'by_line'))) {
      const rows = line!.flatMap((l, i) => (l === name ? [i] : []));
      const standards = rows.filter((i) => type![i] === 'standard');
      const levels = [...new Set(standards.map((i) => level![i]!))].sort((a, b) => Number(a) - Number(b));
      const groups = levels.map((l) =>
        standards.filter((i) => level![i] === l).map((i) => Number(ratio![i])),
      );
      const results = blockAt(block);
      const nominal = levels.map(Number);
      const by = (f: (group: number[]) => number) =>
        groups.map((g, i) => ({ nominal_mg_L: nominal[i]!, y: f(g) }));
      expectSample(results.standard_means, by(mean));
      expectSample(results.standard_sds, groups.map(standardDeviation));
      expectGroupTests(blockAt(block, 'variance_tests_standards'), groups);
      const blanks = rows.filter((i) => type![i]!.endsWith('blank')).map((i) => Number(raw![i]));
      expectSample(blockAt(block, 'blanks_raw_cps').description, description(blanks));
    }
    const scandium = line!.flatMap((l, i) => (l.startsWith('Sc') ? [i] : []));
    const values = scandium.map((i) => Number(raw![i]));
    const block = blockAt(set.results, 'internal_standard_raw_cps');
    expectSample(block.description, description(values));
    const solutions = [...new Set(scandium.map((i) => sequenceNumber![i]!))];
    const groups = solutions.map((s) =>
      scandium.filter((i) => sequenceNumber![i] === s).map((i) => Number(raw![i])),
    );
    const oneWay = blockAt(block, 'one_way_solutions');
    expectSample(oneWay.cochran, cochran(groups));
    expectSample(keep(blockAt(block, 'trend'), 'all', chartOutside), sequence(groups.map(mean)));
  });

  it('kola_control_standard: every analyte in the order of insertion', () => {
    const set = openSet('kola_control_standard');
    const [method, analyte, value] = [set.text('method'), set.text('analyte'), set.text('value')];
    let skipped = 0;
    for (const [name, block] of Object.entries(set.results)) {
      const results = blockAt(block);
      if (results.skipped) {
        skipped++;
        continue;
      }
      const values = value.filter((v, i) => v !== '' && `${method[i]}:${analyte[i]}` === name).map(Number);
      expectSample(results.description, description(values));
      expectSample(results.normality, normality(values));
      expectSample(results.grubbs, grubbs(values));
      expectSample(results.algorithm_A, algorithmABlock(values));
      expectSample(keep(blockAt(results.chart!), 'all', chartOutside), sequence(values));
    }
    expect(skipped).toBe(8);
    expect(Object.keys(set.results).length).toBeGreaterThan(40);
  });
});
