import { describe, expect, it } from 'vitest';
import { type ResultObservation, resultModel, resultValue } from '../../../src/chain/result-model.js';
import { propagate } from '../../../src/uncertainty/propagate.js';
import {
  type Cells,
  calibration,
  densityMeasurement,
  large,
  massCells,
  observation,
  portionFormula,
  readingUncertainty,
  small,
  solutionFormula,
  spreadsheet,
  uncertain,
} from './chain-example.js';

const modelled = (o: ResultObservation) => {
  const { model, inputs, correlations } = resultModel(o, { route: 'components', unexplained: null });
  return propagate(model, inputs, correlations).outputs[0]!;
};

/** Cells that every mode rests on: balance readings, sensitivities, ratio, drift, calibration, stock. */
const common = (b0: number, b1: number): Cells => ({
  ...massCells,
  ratio: [0.21012, 0.0005],
  drift: [1.02, 0.001],
  b0: [b0, 4e-3 * b1],
  b1: [b1, 1.5e-3 * b1],
  stock: [1, 0.0025],
});
const density: Cells = { rhoError: [0, 0.5], expansion: [2.1e-4, 2e-5], above20: [3, 0.8] };
const line = [['b0', 'b1', -0.6]] as const;

const [portion, solution] = [portionFormula, solutionFormula];
const readingDensity = (c: Record<string, number>, recorded: number) =>
  (recorded + c.rhoError!) * (1 - c.expansion! * c.above20!); // kg/m³ at 23 °C

const digestionSolution = observation({}).solution;
const { densityMeasurement: _none, ...withoutDensity } = digestionSolution;
const inMass = { solution: withoutDensity };
const density1012 = { kgPerM3: 1012, measurement: densityMeasurement };

function expectAgreement(o: ResultObservation, hand: { w: number; u: number }) {
  const output = modelled(o);
  expect(resultValue(o)).toAgreeWithin(hand.w, 1e-12);
  expect(output.estimate).toAgreeWithin(hand.w, 1e-12);
  // Numeric differentiation in double precision keeps about eleven digits.
  expect(output.standardUncertainty).toAgreeWithin(hand.u, 1e-10);
}

describe('internal standard on line', () => {
  it('agrees with a spreadsheet, calibration in mg/kg', () => {
    const o = observation(
      { pump: uncertain(1.002, 0.001), match: uncertain(1.001, 0.001), native: uncertain(4e-4, 1e-4) },
      inMass,
    );
    const cells = {
      ...common(0.002, 0.05),
      pump: [1.002, 0.001],
      match: [1.001, 0.001],
      native: [4e-4, 1e-4],
    } as const;
    const hand = spreadsheet(
      cells,
      (c) => {
        const ratio = (c.ratio! * c.pump! * (1 + c.native!)) / c.drift!; // 0.206 494
        const content = ((ratio - c.b0!) / c.b1!) * c.stock! * c.match!; // mg/kg in the solution
        const amount = (content * solution(c)) / 1000 / c.evaporation!; // mg
        return (amount / portion(c)) * 1000;
      },
      line,
    );
    expectAgreement(o, hand);
  });

  it('agrees with a spreadsheet, calibration in mg/L: divided by the density at the temperature of the reading', () => {
    const o = observation({ calibration: calibration('mg/L', 0.002, 0.05), density: density1012 });
    const hand = spreadsheet(
      { ...common(0.002, 0.05), ...density },
      (c) => {
        const concentration = ((c.ratio! / c.drift! - c.b0!) / c.b1!) * c.stock!; // 4.08 mg/L
        const content = (concentration / readingDensity(c, 1012)) * 1000; // 4.034 mg/kg
        return ((content * solution(c)) / 1000 / c.evaporation! / portion(c)) * 1000;
      },
      line,
    );
    expectAgreement(o, hand);
  });

  it('refuses a calibration in mg/L of a solution without density', () => {
    const o = observation({ calibration: calibration('mg/L', 0.002, 0.05) });
    expect(() => resultValue(o)).toThrow('solution D-001: expected its density');
  });
});

const internalStandard = {
  massFractionMgPerKg: 500,
  relativeStandardUncertainty: 0.0006,
  densityKgPerM3: 1005,
  source: 'Sc 500',
};
const addition: Cells = {
  isReading: [1.0021, readingUncertainty('small', 1.0021)],
  isZero: [0, readingUncertainty('small', 0)],
  isContent: [500, 0.3],
};
const airToMass = (density: number) => (1 - 1.2 / 8000) / (1 - 1.2 / density);
const inDigestion = {
  solution: internalStandard,
  inDigestion: { addedG: 1.0021, balance: small },
  inDilution: null,
};

describe('internal standard added to the digestion', () => {
  const dose = (c: Record<string, number>) =>
    ((c.isReading! - c.isZero!) * c.sensitivitySmall! * airToMass(1005) * c.isContent!) / solution(c); // 5.01 mg/kg at weigh-back

  it('agrees with a spreadsheet, calibration in mg/kg', () => {
    const o = observation(
      { internalStandard: inDigestion, calibration: calibration('mg/kg', 0.01, 0.26) },
      inMass,
    );
    const hand = spreadsheet(
      { ...common(0.01, 0.26), ...addition },
      (c) => {
        const signal = (c.ratio! * dose(c) * c.evaporation!) / c.drift!; // ratio × content of the internal standard
        const content = ((signal - c.b0!) / c.b1!) * c.stock!;
        return ((content * solution(c)) / 1000 / c.evaporation! / portion(c)) * 1000;
      },
      line,
    );
    expectAgreement(o, hand);
  });

  it('agrees with a spreadsheet, calibration in mg/L', () => {
    const o = observation({
      internalStandard: inDigestion,
      calibration: calibration('mg/L', 0.01, 0.26),
      density: density1012,
    });
    const hand = spreadsheet(
      { ...common(0.01, 0.26), ...addition, ...density },
      (c) => {
        const rho = readingDensity(c, 1012);
        const signal = (c.ratio! * dose(c) * c.evaporation! * rho) / 1000 / c.drift!; // mg/L
        const content = ((((signal - c.b0!) / c.b1!) * c.stock!) / rho) * 1000;
        return ((content * solution(c)) / 1000 / c.evaporation! / portion(c)) * 1000;
      },
      line,
    );
    expectAgreement(o, hand);
  });

  it('lets mass of solution, evaporation and dilution cancel where the calibration passes through zero', () => {
    const through = observation(
      { internalStandard: inDigestion, calibration: calibration('mg/kg', 0, 0.26), dilutionName: 'F' },
      { ...inMass, dilutions: { F: { dilution: 'V-1', balance: large, aliquotG: 5, finalG: 100 } } },
    );
    const { estimate, sensitivities } = modelled(through);
    for (const name of ['rep_vs', 'rep_v', 'S_v', 'f_evap', 'rep_aliquot_F', 'rep_final_F']) {
      expect(Math.abs(sensitivities[name]!) / estimate, name).toBeLessThan(1e-14);
    }
    // u(m_IS) enters in full: ∂w/∂m_IS = w/m_IS.
    expect(sensitivities.rep_is!).toAgreeWithin(estimate / 1.0021, 1e-12);
    // One balance for internal standard and portion: its sensitivity cancels.
    expect(Math.abs(sensitivities.S_p!) / estimate).toBeLessThan(1e-14);
    const elsewhere = observation(
      {
        internalStandard: { ...inDigestion, inDigestion: { addedG: 1.0021, balance: large } },
        calibration: calibration('mg/kg', 0, 0.26),
      },
      inMass,
    );
    expect(modelled(elsewhere).sensitivities.S_v!).toAgreeWithin(estimate, 1e-12);
  });
});

const dilution = { dilution: 'V-1', balance: large, aliquotG: 5.004, finalG: 100.12 };
const weighed: Cells = {
  aliquot: [5.004, readingUncertainty('large', 5.004)],
  aliquotZero: [0, readingUncertainty('large', 0)],
  final: [100.12, readingUncertainty('large', 100.12)],
  finalZero: [0, readingUncertainty('large', 0)],
};

describe('internal standard in the diluent', () => {
  const liquid = { ...internalStandard, massFractionMgPerKg: 5 };

  it('agrees with a spreadsheet, calibration in mg/kg, the diluent being the internal-standard solution', () => {
    const o = observation(
      {
        internalStandard: { solution: liquid, inDigestion: null, inDilution: 'all diluent' },
        calibration: calibration('mg/kg', 0.01, 0.26),
        dilutionName: 'F',
      },
      { ...inMass, dilutions: { F: dilution } },
    );
    const hand = spreadsheet(
      { ...common(0.01, 0.26), ...weighed, isContent: [5, 0.003] },
      (c) => {
        const aliquot = c.aliquot! - c.aliquotZero!;
        const final = c.final! - c.finalZero!;
        const internal = (c.isContent! * (final - aliquot)) / final; // 4.750 mg/kg
        const content = (((c.ratio! * internal) / c.drift! - c.b0!) / c.b1!) * c.stock! * (final / aliquot);
        return ((content * solution(c)) / 1000 / c.evaporation! / portion(c)) * 1000;
      },
      line,
    );
    expectAgreement(o, hand);
  });

  it('agrees with a spreadsheet, calibration in mg/L, the internal standard weighed into the dilution', () => {
    const o = observation(
      {
        internalStandard: {
          solution: internalStandard,
          inDigestion: null,
          inDilution: { addedG: 1.0021, balance: large },
        },
        calibration: calibration('mg/L', 0.01, 0.26),
        dilutionName: 'F',
        density: { kgPerM3: 1008, measurement: densityMeasurement },
      },
      { dilutions: { F: dilution } },
    );
    const cells = {
      ...common(0.01, 0.26),
      ...density,
      ...weighed,
      isReading: [1.0021, readingUncertainty('large', 1.0021)],
      isZero: [0, readingUncertainty('large', 0)],
      isContent: [500, 0.3],
    } as const;
    const hand = spreadsheet(
      cells,
      (c) => {
        const aliquot = c.aliquot! - c.aliquotZero!;
        const final = c.final! - c.finalZero!;
        const internal = (c.isContent! * (c.isReading! - c.isZero!)) / final; // 5.005 mg/kg
        const rho = readingDensity(c, 1008);
        const signal = (c.ratio! * internal * rho) / 1000 / c.drift!;
        const content = ((((signal - c.b0!) / c.b1!) * c.stock!) / rho) * 1000 * (final / aliquot);
        return ((content * solution(c)) / 1000 / c.evaporation! / portion(c)) * 1000;
      },
      line,
    );
    expectAgreement(o, hand);
  });

  it('refuses a solution to which none was added', () => {
    const none = { solution: liquid, inDigestion: null, inDilution: null };
    expect(() => resultValue(observation({ internalStandard: none }))).toThrow(
      'digestion D-001: expected the mass of internal-standard solution',
    );
  });
});

describe('dilution by volume', () => {
  const vessel = (id: string, nominalML: number, toleranceML: number, repeatabilityML: number) => ({
    id,
    certificate: `C-${id}`,
    specification: { nominalML, toleranceML, repeatabilityML, expansionPerK: 1e-5 },
  });
  const temperature = uncertain(22, 1);
  const own = { kgPerM3: 1012, measurement: densityMeasurement };
  const diluted = { kgPerM3: 1008, measurement: densityMeasurement };
  const final = {
    volumeML: 100,
    vessel: vessel('FL-1', 100, 0.1, 0.02),
    density: diluted,
    densityName: 'F',
    temperature,
  };
  const volumes: Cells = {
    flaskTolerance: [0, 0.1 / Math.sqrt(6)],
    flaskFilling: [0, 0.02],
    volumesAbove20: [2, 1],
  };
  const finalMass = (c: Record<string, number>) =>
    ((100 + c.flaskTolerance! + c.flaskFilling!) *
      (1 + 1e-5 * c.volumesAbove20!) *
      (1008 + c.rhoError!) *
      (1 - c.expansion! * c.volumesAbove20!)) /
    1000; // 100.76 g

  it('agrees with a spreadsheet: pipette and flask, calibration in mg/kg', () => {
    const aliquot = {
      volumeML: 5,
      vessel: vessel('PI-1', 5, 0.015, 0.004),
      density: own,
      densityName: 's',
      temperature,
    };
    const o = observation(
      { dilutionName: 'F' },
      { dilutions: { F: { dilution: 'V-1', balance: large, aliquot, final } } },
    );
    const cells = {
      ...common(0.002, 0.05),
      ...volumes,
      rhoError: [0, 0.5],
      expansion: [2.1e-4, 2e-5],
      pipetteTolerance: [0, 0.015 / Math.sqrt(6)],
      pipetteDelivery: [0, 0.004],
    } as const;
    const hand = spreadsheet(
      cells,
      (c) => {
        const aliquotMass =
          ((5 + c.pipetteTolerance! + c.pipetteDelivery!) *
            (1 + 1e-5 * c.volumesAbove20!) *
            (1012 + c.rhoError!) *
            (1 - c.expansion! * c.volumesAbove20!)) /
          1000; // 5.058 g
        const content = ((c.ratio! / c.drift! - c.b0!) / c.b1!) * c.stock! * (finalMass(c) / aliquotMass);
        return ((content * solution(c)) / 1000 / c.evaporation! / portion(c)) * 1000;
      },
      line,
    );
    expectAgreement(o, hand);
  });

  it('agrees with a spreadsheet: aliquot weighed, made up in a flask, calibration in mg/L; the density cancels but for temperature', () => {
    const o = observation(
      { dilutionName: 'F', calibration: calibration('mg/L', 0.002, 0.05), density: diluted },
      { dilutions: { F: { dilution: 'V-1', balance: small, aliquot: { massG: 5.0041 }, final } } },
    );
    const cells = {
      ...common(0.002, 0.05),
      ...density,
      ...volumes,
      aliquot: [5.0041, readingUncertainty('small', 5.0041)],
      aliquotZero: [0, readingUncertainty('small', 0)],
    } as const;
    const hand = spreadsheet(
      cells,
      (c) => {
        const aliquotMass =
          (c.aliquot! - c.aliquotZero!) * c.sensitivitySmall! * airToMass(1012 + c.rhoError!); // 5.009 g
        const concentration = ((c.ratio! / c.drift! - c.b0!) / c.b1!) * c.stock!;
        const content = (concentration / readingDensity(c, 1008)) * 1000 * (finalMass(c) / aliquotMass);
        return ((content * solution(c)) / 1000 / c.evaporation! / portion(c)) * 1000;
      },
      line,
    );
    expectAgreement(o, hand);
    expect(Math.abs(modelled(o).sensitivities.rho_rec_F!) / hand.w).toBeLessThan(1e-15);
  });

  it('refuses a volume above that of its vessel', () => {
    const o = observation(
      { dilutionName: 'F' },
      {
        dilutions: {
          F: { dilution: 'V-1', balance: large, aliquot: { massG: 5 }, final: { ...final, volumeML: 250 } },
        },
      },
    );
    expect(() => resultValue(o)).toThrow(
      'volume measured by FL-1: found 250 mL, expected at most its 100 mL',
    );
  });
});
