import { beforeAll, describe, expect, it } from 'vitest';
import { buoyancyFactor } from '../../src/chain/buoyancy.js';
import { solutionMass } from '../../src/chain/dissolution.js';
import { resultModel, resultValue } from '../../src/chain/result-model.js';
import type { StudyRecords } from '../../src/records/study-records.js';
import { zirconPigmentStudy } from '../../src/scenario/zircon-pigment-study.js';
import { type EvaluatedStudy, evaluateStudy } from '../../src/studies/evaluate-study.js';
import { propagate } from '../../src/uncertainty/propagate.js';
import { measuredDensity } from '../support/measured-density.js';

let records: StudyRecords;
let onLine: EvaluatedStudy;
let airDensity: number;

beforeAll(() => {
  records = zirconPigmentStudy({ seed: 20260302 }).records;
  // One density for all solutions, so that only the mode changes.
  records = { ...records, digestions: records.digestions.map((d) => ({ ...d, densityGPerML: 1.012 })) };
  onLine = evaluateStudy(records);
  airDensity = onLine.results[0]!.observation.solution.airDensity.estimate;
});

const solution = {
  massFractionMgPerKg: 500,
  relativeStandardUncertainty: 0,
  densityGPerML: 1,
  source: 'Sc 500',
};

/** Solution masses of the digestions as the chain computes them. */
const massOf = (digestion: string) =>
  solutionMass(onLine.results.find((r) => r.digestion === digestion)!.observation.solution);

/** The same results, by rows made to mean the same in another mode. */
function expectSameResults(changed: StudyRecords): EvaluatedStudy {
  const study = evaluateStudy(changed);
  expect(study.results.length).toBe(onLine.results.length);
  study.results.forEach((result, i) => {
    expect(result.amountMg).toAgreeWithin(onLine.results[i]!.amountMg, 1e-9);
  });
  for (const analyte of ['Al', 'Zr', 'Pr']) {
    const one = study.results.find((r) => r.analyte === analyte && r.kind === 'sample')!;
    const { model, inputs, correlations } = resultModel(one.observation, {
      route: 'components',
      unexplained: null,
    });
    const [w] = propagate(model, inputs, correlations).outputs;
    expect(w!.estimate).toAgreeWithin(resultValue(one.observation), 1e-13);
  }
  return study;
}

describe('a study in another mode, its records made to mean the same', () => {
  it('gives the same results with the internal standard added to the digestion', () => {
    const { doseMgPerKg } = records.plan.internalStandard;
    const buoyancy = buoyancyFactor(airDensity, 1000);
    const factor = new Map(records.dilutions.map((d) => [d.dilution, d.finalG! / d.aliquotG!]));
    const measured = new Set(onLine.results.map((r) => r.digestion));
    expectSameResults({
      ...records,
      plan: {
        ...records.plan,
        internalStandard: { ...records.plan.internalStandard, mode: 'added to the digestion', solution },
      },
      digestions: records.digestions.map((d) => ({
        ...d,
        internalStandardG: measured.has(d.digestion)
          ? (doseMgPerKg * massOf(d.digestion)) / (500 * buoyancy)
          : null,
      })),
      // A diluted internal standard shines less: the ratio stays that of the digestion's own solution.
      readings: records.readings.map((r) =>
        r.internalStandardIntensity === null
          ? r
          : { ...r, internalStandardIntensity: r.internalStandardIntensity / (factor.get(r.solution) ?? 1) },
      ),
    });
  });

  it('gives the same results with calibration in mg/L where all densities are one', () => {
    const perL = (x: number) => x * 1.012;
    const { plan } = records;
    const study = expectSameResults({
      ...records,
      plan: {
        ...plan,
        calibration: { basis: 'mg/L' },
        density: measuredDensity,
        analytes: plan.analytes.map((a) => ({ ...a, signalFloorMgPerKg: perL(a.signalFloorMgPerKg) })),
      },
      digestions: records.digestions.map((d) => ({ ...d, densityGPerML: 1.012 })),
      calibration: records.calibration.map((c) => ({
        ...c,
        massFractionMgPerKg: null,
        concentrationMgPerL: perL(c.massFractionMgPerKg!),
        standardUncertainty: perL(c.standardUncertainty),
      })),
    });
    expect(study.results.length).toBeGreaterThan(800);
  });

  it('gives nearly the same results with dilutions made up in a flask', () => {
    const volume = { nominalML: 200, toleranceML: 0.1, repeatabilityML: 0.02, expansionPerK: 1e-5 };
    const dilutionFlask = { ...records.equipment[0]!, id: 'FL-1', kind: 'other' as const, volume };
    const byVolume = {
      ...records,
      plan: {
        ...records.plan,
        density: measuredDensity,
        flask: { equipment: 'FL-1', temperatureC: 20, temperatureStandardUncertaintyK: 1 },
      },
      equipment: [...records.equipment, dilutionFlask],
      dilutions: records.dilutions.map((d) => ({ ...d, finalG: null, finalML: d.finalG! / 1.012 })),
    };
    const study = evaluateStudy(byVolume);
    // Weighed in air, made up to a true volume: the buoyancy of the aliquot no longer cancels.
    const zirconium = (s: EvaluatedStudy) =>
      s.results.find((r) => r.analyte === 'Zr' && r.kind === 'sample')!;
    const ratio = zirconium(study).amountMg / zirconium(onLine).amountMg;
    expect(ratio).toAgreeWithin(1 / buoyancyFactor(airDensity, 1012), 1e-9);
  });

  it('refuses a dilution to a volume where the plan names no flask', () => {
    const dilutions = records.dilutions.map((d) => ({ ...d, finalG: null, finalML: 100 }));
    expect(() => evaluateStudy({ ...records, dilutions })).toThrow(
      'found 100 mL, expected a flask in study.json',
    );
  });
});
