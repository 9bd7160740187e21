import { describe, expect, it } from 'vitest';
import type { Balance } from '../../src/chain/balance.js';
import { calibrate } from '../../src/chain/calibration.js';
import { countedOnce } from '../../src/chain/counting-route.js';
import { type ResultObservation, resultModel, resultValue } from '../../src/chain/result-model.js';
import { makeBudget } from '../../src/uncertainty/make-budget.js';
import { propagate } from '../../src/uncertainty/propagate.js';

const fine = {
  repeatabilityG: 0.0002,
  scaleIntervalG: 0.0001,
  linearityG: 0.0002,
  sensitivityRelative: 2e-6,
  eccentricityRelative: 1e-6,
  temperatureCoefficientPerK: 1e-6,
  temperatureHalfWidthK: 2,
  driftRelative: 1e-6,
};
const small: Balance = { id: 'BAL-1', certificate: 'C1', specification: fine };
const large: Balance = {
  id: 'BAL-2',
  certificate: 'C2',
  specification: { ...fine, repeatabilityG: 0.005, scaleIntervalG: 0.01 },
};
const exact = (estimate: number) => ({
  estimate,
  standardUncertainty: 0,
  distribution: 'normal' as const,
  source: 'test',
});

function observation(): ResultObservation {
  // A perfect calibration: ratio = 0.002 + 0.05 · content.
  const points = [0, 2, 5, 10].map((content) => ({
    solution: `S${content}`,
    content,
    preparationUncertainty: 0,
    ratio: 0.002 + 0.05 * content,
  }));
  const calibration = calibrate('R1', 'Al', 396.152, points, { floor: 0.01, relative: 0.004 });
  return {
    digestion: 'D-001',
    analyte: 'Al',
    signals: [
      {
        analyte: 'Al',
        lineNm: 396.152,
        solution: 'D-001',
        meanRatio: 0.21012,
        ratioStandardUncertainty: 0.0005,
        ratioDegreesOfFreedom: 40,
        drift: { factor: 1.02, standardUncertainty: 0.001, weight: 0.5, checks: [0, 1] },
        driftDegreesOfFreedom: 40,
        calibration,
        stock: { name: 'Al-1000', relativeStandardUncertainty: 0.0025, source: 'certificate' },
        match: { ...exact(1.001), standardUncertainty: 0.001 },
        dilutionFactor: 100 / 5,
        dilutionName: 'F',
        spectrometer: 'ICP-1',
      },
    ],
    interference: [],
    dilutions: { F: { dilution: 'DIL-1', balance: large, aliquotG: 5, finalG: 100 } },
    portion: {
      digestion: 'D-001',
      balance: small,
      crucibleG: 30.1234,
      crucibleWithPortionG: 30.3234,
      airDensity: exact(1.2),
      portionDensity: exact(4600),
    },
    solution: {
      digestion: 'D-001',
      vesselBalance: large,
      crucibleBalance: small,
      crucibleG: 30.1234,
      vesselEmptyG: 120.5,
      vesselWithSolutionAndCrucibleG: 250.6234,
      airDensity: exact(1.2),
      solutionDensityKgPerM3: 1012,
    },
    fluxG: 2.004,
    blank: { scaling: 'per flux mass', mean: 0.002, standardDeviation: 0.0005, n: 10, digestions: ['B1'] },
    fluxLot: { ...exact(0), standardUncertainty: 0.0002 },
    basis: {
      losses: [
        {
          ...{ step: 'as received to dry', restored: false },
          ...{ fraction: 0.004, standardUncertainty: 0.0004, source: 'moisture' },
        },
      ],
      oxide: { formula: 'Al2O3', factor: 1.8895, standardUncertainty: 0.0001 },
      unit: 'g/100 g',
      evaporation: { ...exact(1.0005), standardUncertainty: 0.0002 },
      retained: { ...exact(0.999), standardUncertainty: 0.0005 },
      heterogeneity: { ...exact(1), standardUncertainty: 0.002 },
    },
  };
}

/** Every intermediate figure of `observation`, written out. */
function byHand() {
  const airToReference = 1 - 1.2 / 8000;
  const portionG = (30.3234 - 30.1234) * (airToReference / (1 - 1.2 / 4600)); // 0.200 022 1
  const solutionG = (250.6234 - 120.5 - 30.1234) * (airToReference / (1 - 1.2 / 1012)); // 100.103 7
  const ratio = 0.21012 / 1.02; // 0.206
  const content = ((ratio - 0.002) / 0.05) * 1.001 * (100 / 5); // 81.681 6 mg/kg
  const amountMg = (content * solutionG) / 1000 / 1.0005 / 0.999;
  const blankMg = 0.002 * 2.004;
  const perG = (amountMg - blankMg) / (portionG * (1 - 0.004));
  return { portionG, solutionG, content, w: perG * 1.8895 * 0.1 };
}

const budgetOf = (o: ResultObservation, random: Parameters<typeof resultModel>[1]) => {
  const { model, inputs, correlations } = resultModel(o, random);
  return makeBudget(propagate(model, inputs, correlations), 'w');
};
const components = { route: 'components', unexplained: null } as const;

describe('result of one digestion', () => {
  it('agrees with the hand-computed chain to 12 digits, and so does the model written as equations', () => {
    const hand = byHand();
    expect(resultValue(observation())).toAgreeWithin(hand.w, 1e-12);
    expect(budgetOf(observation(), components).estimate).toAgreeWithin(hand.w, 1e-12);
  });

  it('adds the crucible to both masses: one reading, opposite signs', () => {
    const lines = budgetOf(observation(), components).lines;
    const sensitivity = (name: string) => lines.find((line) => line.input.name === name)!.sensitivity;
    const w = byHand();
    // ∂w/∂e_c = w·(1/m_p·B_p) − c-part: through m_p it raises w, through m_s it lowers it (blank part neglected: 0.03 %).
    const expected = w.w * (1.000110869 / w.portionG - 1.001037 / w.solutionG);
    expect(sensitivity('rep_c')).toAgreeWithin(expected, 1e-3);
    expect(sensitivity('rep_cp')).toBeLessThan(0);
  });

  it('lets the sensitivity of one common balance cancel between portion and solution', () => {
    const o = observation();
    const common: ResultObservation = {
      ...o,
      blank: null,
      fluxLot: null,
      solution: { ...o.solution, vesselBalance: small },
    };
    const line = budgetOf(common, components).lines.find((l) => l.input.name === 'S_p')!;
    expect(Math.abs(line.sensitivity)).toBeLessThan(1e-12);
  });

  it('counts random parts once: the precision route takes them as exact and refuses the other route’s factor', () => {
    const observed = { relative: 0.006, degreesOfFreedom: 15, source: '10 days × 2 digestions' };
    const budget = budgetOf(observation(), { route: 'precision', observed });
    const held = budget.lines.filter((l) => l.input.withinPrecision && l.input.name !== 'f_prec');
    expect(held.length).toBeGreaterThan(8);
    expect(held.every((l) => l.contribution === 0)).toBe(true);
    const precision = budget.lines.find((l) => l.input.name === 'f_prec')!;
    expect(precision.contribution).toAgreeWithin(0.006 * budget.estimate, 1e-12);
    expect(() =>
      countedOnce(
        budget.lines.map((l) => l.input),
        'components',
      ),
    ).toThrow('count twice');
  });

  it('moves by what the share predicts when one input’s uncertainty is raised by 10 %', () => {
    const { model, inputs, correlations } = resultModel(observation(), components);
    const before = makeBudget(propagate(model, inputs, correlations), 'w');
    for (const line of before.lines.filter(
      (l) => l.share > 1e-6 && !l.input.name.startsWith('b0') && !l.input.name.startsWith('b1'),
    )) {
      const raised = inputs.map((input) =>
        input.name === line.input.name
          ? {
              ...input,
              standardUncertainty: input.standardUncertainty * 1.1,
              distribution: { kind: 'normal' as const },
            }
          : input,
      );
      const after = makeBudget(propagate(model, raised, correlations), 'w');
      const predicted = before.standardUncertainty * Math.sqrt(1 + 0.21 * line.share);
      expect(after.standardUncertainty).toAgreeWithin(predicted, 1e-9);
    }
  });

  it('writes interferents out before those they disturb and agrees with the numeric correction', () => {
    const o = observation();
    const own = o.signals[0]!;
    const zr = { ...own, analyte: 'Zr', meanRatio: 0.6, dilutionFactor: 1, dilutionName: null };
    const coefficient = (analyte: string, interferent: string, value: number) => ({
      analyte,
      interferent,
      value,
      standardUncertainty: value / 20,
      source: 'K',
    });
    const chained: ResultObservation = {
      ...o,
      signals: [own, zr],
      interference: [coefficient('Al', 'Zr', 5e-2)],
    };
    expect(budgetOf(chained, components).estimate).toAgreeWithin(resultValue(chained), 1e-12);
    expect(resultValue(chained)).toBeLessThan(resultValue(o));
    const mutual: ResultObservation = {
      ...chained,
      interference: [coefficient('Al', 'Zr', 5e-2), coefficient('Zr', 'Al', 2e-2)],
    };
    expect(budgetOf(mutual, components).estimate).toAgreeWithin(resultValue(mutual), 1e-12);
    expect(() => resultModel({ ...o, interference: [coefficient('Al', 'Zr', 5e-2)] }, components)).toThrow(
      'Zr disturbs Al but was not measured',
    );
  });
});
