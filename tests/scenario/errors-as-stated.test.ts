import { describe, expect, it } from 'vitest';
import type { BalanceSpecification } from '../../src/records/study.js';
import { analyteDesigns, analyteNames } from '../../src/scenario/design/analytes.js';
import { zirconPigmentStudy } from '../../src/scenario/zircon-pigment-study.js';

const studies = Array.from({ length: 40 }, (_, i) => zirconPigmentStudy({ seed: 500 + i }));

/** Number of values, their mean square and the share of those beyond ±1.96. */
function spread(standardised: readonly number[]) {
  const n = standardised.length;
  return {
    n,
    meanSquare: standardised.reduce((sum, z) => sum + z * z, 0) / n,
    mean: standardised.reduce((sum, z) => sum + z, 0) / n,
    beyond: standardised.filter((z) => Math.abs(z) > 1.959964).length,
  };
}

/**
 * Errors that were divided by the standard uncertainty the records state, all independent. Limits are three and a half
 * standard deviations of the binomial count, of the mean and (for a normal error) of the mean square.
 */
function expectAsStated(standardised: readonly number[], leastN: number) {
  const { n, meanSquare, mean, beyond } = spread(standardised);
  expect(n).toBeGreaterThanOrEqual(leastN);
  expect(Math.abs(mean)).toBeLessThan(3.5 / Math.sqrt(n));
  expect(Math.abs(meanSquare - 1)).toBeLessThan(3.5 * Math.sqrt(2 / n));
  expect(Math.abs(beyond - 0.05 * n)).toBeLessThan(3.5 * Math.sqrt(n * 0.05 * 0.95));
}

/** One reading's variance from a balance's certificate and specification, g². */
function readingVariance(spec: BalanceSpecification, loadG: number): number {
  const rectangular = [spec.linearityG, spec.eccentricityRelative * loadG, spec.scaleIntervalG / 2];
  return spec.repeatabilityG ** 2 + rectangular.reduce((sum, half) => sum + half ** 2 / 3, 0);
}

describe('errors between truth and records', () => {
  it('of certified values follow the certificates', () => {
    const errors = studies.flatMap(({ records, truth }) =>
      records.references.map((r) => {
        const actual = truth.massFractions[r.material]![r.analyte as 'Zr'].reported;
        return (r.value - actual) / (r.expandedUncertainty / r.coverageFactor);
      }),
    );
    expectAsStated(errors, 640);
  });

  it('of stock standards and the check solution follow their certificates', () => {
    const errors = studies.flatMap(({ records, truth }) =>
      records.standards.flatMap((s) => {
        const relativeU = s.expandedUncertainty / s.coverageFactor / s.value;
        const { stock, checkSolution, interferentMgPerKg } = truth.hiddenErrors;
        if (s.name === 'CHK') return [(checkSolution[s.analyte as 'Zr'] - 1) / relativeU];
        if (s.name === 'IC-Zr') return [(interferentMgPerKg / s.value - 1) / relativeU];
        return s.analyte === 'Sc' ? [] : [(stock[s.analyte as 'Zr'] - 1) / relativeU];
      }),
    );
    expectAsStated(errors, 640);
  });

  it('of moisture and interference coefficients follow the tables', () => {
    const errors = studies.flatMap(({ records, truth }) => [
      ...records.moisture.map(
        (m) =>
          (truth.hiddenErrors.moisture[m.sample as 'ZP-1'] - m.lossGPer100G) / m.standardUncertaintyGPer100G,
      ),
      ...records.interference.map((k) => {
        const actual = truth.hiddenErrors.interferences.find((t) => t.lineNm === k.lineNm)!;
        return (actual.apparentPerUnit - k.apparentPerUnit) / k.standardUncertainty;
      }),
    ]);
    expectAsStated(errors, 350);
  });

  it('of inputs stated in the plan follow the plan', () => {
    const normal = studies.flatMap(({ records, truth }) => {
      const of = (name: string) => records.plan.statedInputs.find((s) => s.name === name)!;
      const standardised = (name: string, actual: number) =>
        (actual - of(name).estimate) / of(name).standardUncertainty;
      return [
        standardised('density and uptake match', truth.hiddenErrors.densityAndUptakeMatch),
        standardised('retained in fusion', truth.hiddenErrors.reachesSolution),
        standardised('portion density', truth.hiddenErrors.portionDensity),
      ];
    });
    expectAsStated(normal, 120);
    const lots = studies.flatMap(({ records, truth }) =>
      records.plan.statedInputs
        .filter((s) => s.name === 'flux lot blank')
        .map((s) => truth.hiddenErrors.fluxLotBlank[s.analyte as 'Zr'] / s.standardUncertainty),
    );
    // Rectangular: never beyond √3, with a fourth moment of 9/5.
    expect(Math.max(...lots.map(Math.abs))).toBeLessThan(Math.sqrt(3));
    expect(Math.abs(spread(lots).meanSquare - 1)).toBeLessThan(3.5 * Math.sqrt(0.8 / lots.length));
  });

  it('of portions follow the balance, buoyancy corrected', () => {
    // Linearity recurs with the load, so one digestion of each study is taken.
    const errors = studies.map(({ records, truth }, i) => {
      const d = records.digestions.filter((row) => row.kind !== 'blank')[i]!;
      const actual = truth.digestions.find((t) => t.digestion === d.digestion)!;
      const spec = records.equipment.find((e) => e.id === d.portionBalance)!.balance!;
      const buoyancy = (1 - 1.185 / 8000) / (1 - 1.185 / 4600);
      const found = (d.crucibleWithPortionG - d.crucibleG) * buoyancy;
      return (found - actual.portionG) / Math.sqrt(2 * readingVariance(spec, d.crucibleG));
    });
    expectAsStated(errors, 40);
  });

  it('of solutions follow the balances, buoyancy corrected', () => {
    const errors = studies.map(({ records, truth }, i) => {
      const d = records.digestions[i]!;
      const actual = truth.digestions.find((t) => t.digestion === d.digestion)!;
      const spec = records.equipment.find((e) => e.id === d.vesselBalance)!.balance!;
      const buoyancy = (1 - 1.185 / 8000) / (1 - 1.185 / 1012);
      const net = d.vesselWithSolutionAndCrucibleG - d.vesselEmptyG! - d.crucibleG;
      const gain = Math.hypot(
        spec.sensitivityRelative,
        spec.driftRelative / Math.sqrt(3),
        (spec.temperatureCoefficientPerK * spec.temperatureHalfWidthK) / 3,
      );
      const variance =
        readingVariance(spec, d.vesselWithSolutionAndCrucibleG) + readingVariance(spec, d.vesselEmptyG!);
      return (net * buoyancy - actual.solutionG) / Math.sqrt(variance + (135 * gain) ** 2);
    });
    expectAsStated(errors, 40);
  });

  it('of dilutions follow the vessel balance', () => {
    const errors = studies.map(({ records, truth }, i) => {
      const d = records.dilutions[i]!;
      const spec = records.equipment.find((e) => e.id === 'BAL-2')!.balance!;
      const actual = truth.digestions.find((t) => t.digestion === d.digestion)!.dilutionFactor;
      const relative = Math.hypot(
        Math.sqrt(readingVariance(spec, d.aliquotG)) / d.aliquotG,
        Math.sqrt(readingVariance(spec, d.finalG!)) / d.finalG!,
      );
      return (d.finalG! / d.aliquotG / actual - 1) / relative;
    });
    expectAsStated(errors, 40);
  });

  it('of readings follow the signal model of the plan', () => {
    // The scatter of the ratios of one solution, against √(floor² + (relative·x)²) at its true content.
    const sums = Object.fromEntries(analyteNames.map((a) => [a, { square: 0, degreesOfFreedom: 0 }]));
    for (const { records, truth } of studies.slice(0, 4)) {
      const contents = new Map(truth.digestions.map((d) => [d.digestion, d]));
      const groups = new Map<string, number[]>();
      for (const r of records.readings) {
        if (r.internalStandardIntensity === null || !/^[DV]-/.test(r.solution)) continue;
        const key = `${r.analyte}|${r.lineNm}|${r.run}|${r.solution}`;
        groups.set(key, [...(groups.get(key) ?? []), r.intensity / r.internalStandardIntensity]);
      }
      for (const [key, ratios] of groups) {
        const [name, , , solution] = key.split('|');
        const analyte = name as 'Zr';
        const { background, signalFloor, signalRelative } = analyteDesigns[analyte];
        const digestion = contents.get(solution!.replace('V-', 'D-'))!;
        const content =
          digestion.contentMgPerKg[analyte] / (solution!.startsWith('V-') ? digestion.dilutionFactor : 1);
        const expected = Math.hypot(signalFloor, signalRelative * content) / (background + content);
        const average = ratios.reduce((a, b) => a + b) / ratios.length;
        const sum = sums[analyte]!;
        sum.square += ratios.reduce((s, ratio) => s + ((ratio / average - 1) / expected) ** 2, 0);
        sum.degreesOfFreedom += ratios.length - 1;
      }
    }
    for (const { square, degreesOfFreedom } of Object.values(sums)) {
      expect(degreesOfFreedom).toBeGreaterThan(900);
      // Overlaps move the content by 1 %, aluminium's by up to 15 %, and its noise relative to the signal by far less.
      const margin = 3.5 * Math.sqrt(2 / degreesOfFreedom) + 0.02;
      expect(Math.abs(square / degreesOfFreedom - 1)).toBeLessThan(margin);
    }
  });
});
