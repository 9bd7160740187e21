import { describe, expect, it } from 'vitest';
import { fitLine } from '../../../src/statistics/regression/line.js';
import { type Agreement, expectBlock } from '../../support/expect-block.js';
import {
  blockAt,
  classicalSet,
  grouped,
  type JsonObject,
  openDataFolder,
  openSet,
  type ReferenceSet,
} from '../../support/reference-sets.js';
import { computedCalibration, computedInverse } from './calibration-block.js';

/** A calibration whose results the reference holds: where its block is, and which points it was fitted to. */
interface Calibration {
  readonly path: readonly string[];
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly weights?: readonly number[];
}

function expectCalibration(set: ReferenceSet, { path, x, y, weights }: Calibration): void {
  const block = blockAt(set.results, ...path);
  const scale = Math.max(...y.map(Math.abs));
  // Closed forms agree to 1e-10; a residual is a difference of figures on the scale of y.
  const agreement = (leaf: string): Agreement =>
    leaf.startsWith('residuals') ? { relative: 1e-10, absolute: 1e-12 * scale } : { relative: 1e-10 };
  expectBlock(block, computedCalibration(block, x, y, weights), agreement);
}

const inverseSquare = (x: readonly number[]): number[] => x.map((v) => 1 / v ** 2);

function inverseLevelVariance(x: readonly number[], y: readonly number[]): number[] {
  const variances = new Map<string, number>();
  const keys = x.map(String);
  for (const key of new Set(keys)) {
    const level = y.filter((_, i) => keys[i] === key);
    const mean = level.reduce((a, b) => a + b, 0) / level.length;
    variances.set(key, level.reduce((a, v) => a + (v - mean) ** 2, 0) / (level.length - 1));
  }
  return keys.map((key) => 1 / variances.get(key)!);
}

describe('calibration lines of the classical data sets, against R', () => {
  it('formaldehyde: Bennett and Franklin 1954', () => {
    const set = classicalSet('formaldehyde');
    const x = set.numbers('carb_ml');
    const y = set.numbers('optical_density');
    expectCalibration(set, { path: ['linear'], x, y });
    const triple = blockAt(set.results, 'linear_m3');
    expectBlock(triple, computedInverse(triple, fitLine(x, y)), () => ({ relative: 1e-10 }));
  });

  it('lactic acid: Rousseeuw and Leroy 1987, table 10, plain and weighted', () => {
    const set = classicalSet('lactic-acid');
    const x = set.numbers('x_true');
    const y = set.numbers('y_instrument');
    expectCalibration(set, { path: ['linear'], x, y });
    expectCalibration(set, { path: ['weighted_1_over_x'], x, y, weights: x.map((v) => 1 / v) });
    expectCalibration(set, { path: ['weighted_1_over_x2'], x, y, weights: inverseSquare(x) });
  });

  it('the line of Pearson 1901, unweighted', () => {
    const set = classicalSet('pearson-york');
    expectCalibration(set, { path: ['ols'], x: set.numbers('x'), y: set.numbers('y') });
  });

  it('casein on protein: Daudin, Duby and Trecourt 1988', () => {
    const set = classicalSet('milk-composition');
    expectCalibration(set, {
      path: ['casein_on_protein'],
      x: set.numbers('protein_g_L'),
      y: set.numbers('casein_g_L'),
    });
  });
});

describe.skipIf(!openDataFolder)('calibration lines of the open data (needs MELTBOOK_REFERENCE_DATA)', () => {
  it('arsenic in water: eight levels of four', () => {
    const set = openSet('arsenic_water');
    const x = set.numbers('actual');
    const y = set.numbers('measured');
    expectCalibration(set, { path: ['linear'], x, y });
    const five = blockAt(set.results, 'linear_m5');
    expectBlock(five, computedInverse(five, fitLine(x, y)), () => ({ relative: 1e-10 }));
  });

  it('cadmium spikes: heteroscedastic, plain and weighted by level variance', () => {
    const set = openSet('epa_cd111_spikes');
    const x = set.numbers('spike_ng_L');
    const y = set.numbers('found_ng_L');
    expectCalibration(set, { path: ['ols'], x, y });
    const weights = inverseLevelVariance(x, y);
    expectCalibration(set, { path: ['wls_inverse_level_variance'], x, y, weights });
  });

  it('iron standards with uncertainties: plain and weighted by u(cps)', () => {
    const set = openSet('icp_fe_xyerrors');
    const kinds = set.text('role');
    const standards = (column: string) =>
      set
        .text(column)
        .filter((_, i) => kinds[i] === 'standard')
        .map(Number);
    const x = standards('nominal_mg_L');
    const y = standards('cps');
    expectCalibration(set, { path: ['ols'], x, y });
    expectCalibration(set, { path: ['wls_u_cps'], x, y, weights: inverseSquare(standards('u_cps')) });
  });

  it('an ICP-OES run: four iron lines, plain, by level variance and by 1/x²', () => {
    const set = openSet('icpoes_fe_run');
    const rows = set.text('line').map((line, i) => ({ line, i }));
    const lines = Object.keys(blockAt(set.results, 'by_line'));
    expect(lines).toHaveLength(4);
    for (const line of lines) {
      const chosen = rows.filter(({ i, line: l }) => l === line && set.text('type')[i] === 'standard');
      const x = chosen.map(({ i }) => Number(set.text('nominal_mg_L')[i]));
      const y = chosen.map(({ i }) => Number(set.text('is_corrected_cps')[i]));
      const at = (name: string) => ['by_line', line, name];
      expectCalibration(set, { path: at('ols_all_readings_blank_excluded'), x, y });
      const byVariance = inverseLevelVariance(x, y);
      expectCalibration(set, { path: at('wls_inverse_level_variance'), x, y, weights: byVariance });
      expectCalibration(set, { path: at('wls_1_over_x2'), x, y, weights: inverseSquare(x) });
      const means = grouped(y, x.map(String)).map((g) => g.reduce((a, b) => a + b, 0) / g.length);
      const printed = (blockAt(set.results, 'by_line', line).standard_means as readonly JsonObject[]).map(
        (row) => row.y as number,
      );
      const block = blockAt(set.results, 'by_line', line);
      const sequences = set.text('sequence');
      const samples = rows.filter(({ i, line: l }) => l === line && set.text('type')[i] === 'sample');
      const sampleMeans = grouped(
        samples.map(({ i }) => Number(set.text('is_corrected_cps')[i])),
        samples.map(({ i }) => sequences[i]!),
      ).map((g) => g.reduce((a, b) => a + b, 0) / g.length);
      expectBlock(block.sample_mean_is_corrected_cps!, sampleMeans, () => ({ relative: 1e-12 }));
      expectBlock(
        block.sample_sequences!,
        [...new Set(samples.map(({ i }) => Number(sequences[i])))],
        () => ({ relative: 0 }),
      );
      means.forEach((mean, i) => {
        expect(mean).toAgreeWithin(printed[i]!, 1e-12);
      });
    }
  });
});
