import { describe, expect, it } from 'vitest';
import { chiSquaredQuantile } from '../../../src/statistics/distributions/chi-squared.js';
import { fQuantile } from '../../../src/statistics/distributions/f.js';
import { bartlettTest } from '../../../src/statistics/screening/bartlett.js';
import { cochranCritical } from '../../../src/statistics/screening/cochran.js';
import { dixonCritical, dixonTest } from '../../../src/statistics/screening/dixon.js';
import { doubleGrubbsCritical } from '../../../src/statistics/screening/double-grubbs.js';
import { generalisedEsd } from '../../../src/statistics/screening/generalised-esd.js';
import { grubbsCritical, grubbsTest } from '../../../src/statistics/screening/grubbs.js';
import { leveneTest } from '../../../src/statistics/screening/levene.js';
import { mandelHCritical, mandelKCritical } from '../../../src/statistics/screening/mandel-consistency.js';
import { shapiroWilk } from '../../../src/statistics/screening/shapiro-wilk.js';
import { readReference } from '../../support/reference-sets.js';
import { expectPublished } from '../published.js';

/** `10 5 %`: a number and a level. */
function numberAndLevel(figure: string): [number, number] {
  const [n, percent] = figure.split(' ');
  return [Number(n), Number(percent) / 100];
}

describe('limits of tests against printed tables', () => {
  it('Cochran: ISO 5725-2:1994, table 4 (remembered); eight figures err in the last digit', () => {
    expectPublished('iso5725-cochran-limits', (_, figure) => {
      const [groups, size, percent] = figure.replace('× ', '').split(' ').map(Number);
      return cochranCritical(groups!, size!, percent! / 100);
    });
  });

  it('Grubbs, one value: ISO 5725-2:1994, table 5 (remembered); seven figures err in the last digit', () => {
    expectPublished('iso5725-grubbs-limits', (_, figure) => {
      const [n, level] = numberAndLevel(figure);
      return grubbsCritical(n, level, 2);
    });
  });

  it('Grubbs, two values: ISO 5725-2:1994, table 5 (remembered), and a simulation of 4 million samples', () => {
    const { inputs } = readReference<{
      inputs: { simulated: Record<string, number>; simulationScatter: number };
    }>('statistics/iso5725-double-grubbs-limits');
    for (const [figure, simulated] of Object.entries(inputs.simulated)) {
      const [n, level] = numberAndLevel(figure);
      const found = doubleGrubbsCritical(n, level / 2);
      expect(Math.abs(found - simulated), figure).toBeLessThan(inputs.simulationScatter);
    }
    expectPublished(
      'iso5725-double-grubbs-limits',
      (_, figure) => {
        const [n, level] = numberAndLevel(figure);
        return doubleGrubbsCritical(n, level / 2);
      },
      1e-6,
    );
  });

  it('Mandel: ISO 5725-2:1994, tables 6 and 7 (remembered); five figures of k differ', () => {
    expectPublished('iso5725-mandel-limits', (_, figure) => {
      const [groups, statistic, second, third] = figure.split(' ');
      if (statistic === 'h') return mandelHCritical(Number(groups), Number(second) / 100);
      return mandelKCritical(Number(groups), Number(second!.slice(1)), Number(third) / 100);
    });
  });

  it('Dixon r10: Rorabacher 1991, table 1 (read); fourteen printed figures err', () => {
    expectPublished('rorabacher-dixon-limits', (_, figure) => {
      const [n, confidence] = figure.split(' Q').map(Number);
      return dixonCritical(n!, (1 - confidence! / 100) / 2, 'r10');
    });
  });
});

describe('published examples of screening', () => {
  it('nitrite: Miller and Miller, examples 3.7.1 to 3.7.4 (remembered)', () => {
    expectPublished<{ x: number[] }>('miller-nitrite-outlier', ({ x }, figure) => {
      const grubbs = grubbsTest(x, 'both');
      const dixon = dixonTest(x, 'both', 0.05, 'r10');
      const found: Record<string, number> = {
        G: grubbs.statistic,
        G_crit: grubbs.critical,
        Q: dixon.statistic,
        Q_crit_printed: dixon.critical,
      };
      return found[figure]!;
    });
  });

  it('uranium: NIST/SEMATECH e-Handbook 1.3.5.17.1 (remembered)', () => {
    expectPublished<{ x: number[] }>('nist-grubbs-uranium', ({ x }, figure) => {
      const test = grubbsTest(x, 'high');
      expect(test.suspects).toEqual([7]);
      return figure === 'G' ? test.statistic : test.critical;
    });
  });

  it('generalised ESD: NIST/SEMATECH e-Handbook 1.3.5.17.3 (remembered)', () => {
    expectPublished<{ x: number[]; most: number }>('nist-generalised-esd', ({ x, most }, figure) => {
      const { steps, outliers } = generalisedEsd(x, most, 0.05);
      const [what, step] = figure.split(' ');
      if (what === 'outliers') return outliers.length;
      return what === 'R' ? steps[Number(step) - 1]!.statistic : steps[Number(step) - 1]!.critical;
    });
  });

  it('gear diameters: NIST/SEMATECH e-Handbook 1.3.5.10 and 1.3.5.7 (remembered)', () => {
    expectPublished<{ batches: number[][] }>('nist-gear-variances', ({ batches }, figure) => {
      const found: Record<string, number> = {
        levene_median_W: leveneTest(batches).statistic,
        levene_df1: leveneTest(batches).degreesOfFreedom[0]!,
        levene_df2: leveneTest(batches).degreesOfFreedom[1]!,
        levene_crit_95: fQuantile(0.95, 9, 90),
        bartlett_T: bartlettTest(batches).statistic,
        bartlett_chi2_95: chiSquaredQuantile(0.95, 9),
      };
      return found[figure]!;
    });
  });

  it('weights of eleven men: Shapiro and Wilk 1965 (remembered)', () => {
    expectPublished<{ x: number[] }>('shapiro-wilk-weights', ({ x }) => shapiroWilk(x).statistic);
  });

  it('two samples of twenty: test values of a statistics library (read and remembered)', () => {
    expectPublished<Record<'x1' | 'x2', number[]>>(
      'shapiro-wilk-samples',
      (inputs, figure) => {
        const test = shapiroWilk(inputs[figure.includes('1') ? 'x1' : 'x2']);
        return figure.startsWith('W') ? test.statistic : test.pValue;
      },
      1e-5,
    );
  });
});
