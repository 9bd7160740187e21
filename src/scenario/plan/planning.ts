import type { Expectation, PlanningRecord } from '../../records/planning.js';
import { type Analyte, analyteDesigns, analyteNames } from '../design/analytes.js';

const source = 'Pilot work of six digestions on two days in 2026-01, rounded up (invented)';

/** What the pilot work let the laboratory expect, in %; limits of quantification in the unit of the analyte. */
const expected: Readonly<
  Record<Analyte, { day: number; digestion: number; certified: number; limit: number }>
> = {
  Zr: { day: 0.4, digestion: 0.7, certified: 0.3, limit: 0.5 },
  Si: { day: 0.4, digestion: 0.7, certified: 0.4, limit: 0.8 },
  Pr: { day: 0.5, digestion: 0.7, certified: 0.4, limit: 0.02 },
  Hf: { day: 0.5, digestion: 0.7, certified: 0.5, limit: 0.02 },
  Al: { day: 0.6, digestion: 0.8, certified: 0.6, limit: 80 },
  Fe: { day: 0.6, digestion: 0.8, certified: 0.7, limit: 60 },
  Ti: { day: 0.6, digestion: 0.8, certified: 0.7, limit: 30 },
  Ca: { day: 0.8, digestion: 1.1, certified: 0.9, limit: 60 },
};

function expectationOf(analyte: Analyte): Expectation {
  const { day, digestion, certified, limit } = expected[analyte];
  const spiked = analyteDesigns[analyte].spikeMg > 0;
  return {
    analyte,
    level: '*',
    dayPercent: day,
    digestionPercent: digestion,
    biasPercent: 0.5,
    certifiedPercent: certified,
    recoveryPercent: spiked ? 1.5 : null,
    additionPercent: spiked ? 0.2 : null,
    calibrationPercent: 0.6,
    limitOfQuantification: limit,
    source,
  };
}

/** What the size of the invented validation was planned from. */
export const planning: PlanningRecord = {
  power: 0.99,
  mostDays: 20,
  mostDigestionsPerDayAndLevel: 4,
  digestionsADay: 40,
  minutesPerFusion: 16,
  cruciblesAtOnce: 4,
  referenceMaterials: 2,
  otherDigestions: 20,
  expectations: analyteNames.map(expectationOf),
};
