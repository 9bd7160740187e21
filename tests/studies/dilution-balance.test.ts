import { describe, expect, it } from 'vitest';
import type { BalanceSpecification } from '../../src/chain/balance.js';
import { correlatedResult } from '../../src/chain/correlated-result.js';
import type { Dilution } from '../../src/chain/dilution.js';
import { type ResultObservation, resultModel, resultValue } from '../../src/chain/result-model.js';
import type { StudyRecords } from '../../src/records/study-records.js';
import type { DilutionRecord } from '../../src/records/tables/dilutions.js';
import { zirconPigmentStudy } from '../../src/scenario/zircon-pigment-study.js';
import { measuredSolutions } from '../../src/studies/measured-solutions.js';
import { observe } from '../../src/studies/observations.js';
import { indexStudy } from '../../src/studies/study-index.js';
import { propagate } from '../../src/uncertainty/propagate.js';
import { measuredDensity } from '../support/measured-density.js';

const { records } = zirconPigmentStudy({ seed: 4 });
const measured = measuredSolutions(records.readings);
const [vesselBalance] = records.equipment.filter(({ id }) => id === 'BAL-2');

/** A third balance, of the invented register's kind. */
const third: BalanceSpecification = {
  ...{ repeatabilityG: 0.003, scaleIntervalG: 0.01, linearityG: 0.004, sensitivityRelative: 3e-6 },
  ...{ eccentricityRelative: 4e-6, temperatureCoefficientPerK: 1e-6, temperatureHalfWidthK: 2 },
  driftRelative: 1e-6,
};
const equipment = [...records.equipment, { ...vesselBalance!, id: 'BAL-9', balance: third }];

/** Zirconium is read in a dilution and disturbed by nothing; no blank is subtracted, so that w ∝ F. */
function zirconiumOf(digestion: string, changed: Partial<StudyRecords> = {}): ResultObservation {
  const index = indexStudy({ ...records, equipment, ...changed }, measured);
  return observe(index, digestion, 'Zr', null)!;
}
const onBalance = (balance: string, change: Partial<DilutionRecord> = {}) => ({
  dilutions: records.dilutions.map((row) => ({ ...row, balance, ...change })),
});
const modelOf = (o: ResultObservation) => resultModel(o, { route: 'components', unexplained: null });
const uOf = (o: ResultObservation) => {
  const { model, inputs, correlations } = modelOf(o);
  return propagate(model, inputs, correlations).outputs[0]!.standardUncertainty;
};

const [one, other] = records.digestions.filter((d) => d.sample === 'ZP-1').map((d) => d.digestion) as [
  string,
  string,
];
const { aliquotG, finalG } = records.dilutions.find((d) => d.digestion === one)!;

/** (u/m)² of a net mass from two readings, the first of them zero: 2·rep² + 2·d²/12 + 2·lin²/3 + (ecc·m)²/3. */
function relativeVariance(s: BalanceSpecification, massG: number): number {
  const readings = 2 * (s.repeatabilityG ** 2 + s.scaleIntervalG ** 2 / 12 + s.linearityG ** 2 / 3);
  return (readings + (s.eccentricityRelative * massG) ** 2 / 3) / massG ** 2;
}
const ofFactor = (s: BalanceSpecification) => relativeVariance(s, aliquotG) + relativeVariance(s, finalG!);

describe('a dilution', () => {
  it('is weighed on the vessel balance where its row names none', () => {
    const [{ balance }] = Object.values(zirconiumOf(one).dilutions) as [Dilution];
    expect(balance.id).toBe(records.digestions.find((d) => d.digestion === one)!.vesselBalance);
    expect(uOf(zirconiumOf(one, onBalance('BAL-2')))).toBe(uOf(zirconiumOf(one)));
  });

  it('bears the reading errors of the balance that its row names', () => {
    const [before, after] = [zirconiumOf(one), zirconiumOf(one, onBalance('BAL-9'))];
    expect(resultValue(after)).toBe(resultValue(before));
    const grown = (uOf(after) ** 2 - uOf(before) ** 2) / resultValue(before) ** 2;
    expect(grown).toAgreeWithin(ofFactor(third) - ofFactor(vesselBalance!.balance!), 1e-9);
  });

  it('shares linearity with the other dilutions on that balance, and with no other', () => {
    const keysOf = (o: ResultObservation) => [...correlatedResult(o, modelOf(o)).parts.keys()];
    const onThird = onBalance('BAL-9');
    expect(keysOf(zirconiumOf(one, onThird))).toContain('lin_aliquot@BAL-9');
    expect(keysOf(zirconiumOf(other, onThird))).toContain('lin_aliquot@BAL-9');
    expect(keysOf(zirconiumOf(other))).toContain('lin_aliquot@BAL-2');
  });

  it('made up in a flask takes the sensitivity of that balance too', () => {
    const volume = { nominalML: 200, toleranceML: 0.1, repeatabilityML: 0.02, expansionPerK: 1e-5 };
    const flask = { ...records.equipment[0]!, id: 'FL-1', kind: 'other' as const, volume };
    const byVolume = {
      ...onBalance('BAL-9', { finalG: null, finalML: 100 }),
      equipment: [...equipment, flask],
      plan: {
        ...records.plan,
        density: measuredDensity,
        flask: { equipment: 'FL-1', temperatureC: 20, temperatureStandardUncertaintyK: 1 },
      },
    };
    const o = zirconiumOf(one, byVolume);
    const { inputs } = modelOf(o);
    expect(inputs.find(({ name }) => name === 'S_BAL_9')).toMatchObject({
      equipment: 'BAL-9',
      // Adjustment 3e-6, 1e-6 per K over ± 2 K, drift ± 1e-6.
      standardUncertainty: Math.hypot(3e-6, 2e-6 / Math.sqrt(3), 1e-6 / Math.sqrt(3)),
    });
    expect([...correlatedResult(o, modelOf(o)).parts.keys()]).toContain('S@BAL-9');
  });

  it('has its internal standard weighed on the same balance', () => {
    const solution = { massFractionMgPerKg: 500, relativeStandardUncertainty: 0, densityGPerML: 1 };
    const plan: StudyRecords['plan'] = {
      ...records.plan,
      internalStandard: {
        ...records.plan.internalStandard,
        ...{ mode: 'in the diluent', solution: { ...solution, source: 'Sc 500' } },
      },
    };
    const o = zirconiumOf(one, { plan, ...onBalance('BAL-9', { internalStandardG: 1 }) });
    expect(o.signals[0]!.internalStandard!.inDilution).toMatchObject({ addedG: 1, balance: { id: 'BAL-9' } });
  });

  it('is refused on a balance that the register does not hold', () => {
    expect(() => zirconiumOf(one, onBalance('BAL-8'))).toThrow(
      'balance BAL-8: expected a balance of the equipment register',
    );
  });
});
