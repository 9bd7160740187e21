import type { Expectation, PlanningRecord } from '../planning.js';
import {
  elementShape,
  integerShape,
  listShape,
  nullable,
  numberShape,
  objectShape,
  type Shape,
  textShape,
} from './shape.js';

const positive = numberShape({ above: 0 });
const atLeastZero = numberShape({ atLeast: 0 });

const expectation: Shape<Expectation> = objectShape<Expectation>({
  analyte: elementShape,
  level: textShape,
  dayPercent: atLeastZero,
  digestionPercent: positive,
  biasPercent: atLeastZero,
  certifiedPercent: atLeastZero,
  recoveryPercent: nullable(positive),
  additionPercent: nullable(atLeastZero),
  calibrationPercent: positive,
  limitOfQuantification: positive,
  source: textShape,
});

/** What `planning` in `study.json` must hold. */
export const planningShape: Shape<PlanningRecord> = objectShape<PlanningRecord>({
  power: numberShape({ atLeast: 0.5, atMost: 0.999 }),
  mostDays: integerShape({ atLeast: 5 }),
  mostDigestionsPerDayAndLevel: integerShape({ atLeast: 2 }),
  digestionsADay: integerShape({ atLeast: 1 }),
  minutesPerFusion: positive,
  cruciblesAtOnce: integerShape({ atLeast: 1 }),
  referenceMaterials: integerShape({ atLeast: 0 }),
  otherDigestions: integerShape({ atLeast: 0 }),
  expectations: listShape(expectation, 1),
});
