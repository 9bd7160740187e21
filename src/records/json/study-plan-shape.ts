import { solidStates } from '../../chain/mass-on-basis.js';
import { characteristics } from '../../validation/characteristic.js';
import { detectionApproachNames } from '../../validation/detection/detection-approaches.js';
import { type EvidenceRecord, evidenceClauses } from '../evidence.js';
import type {
  AnalyteScope,
  PersonRecord,
  PlannedCriterion,
  PlannedRecovery,
  StatedInput,
  StudyPlan,
} from '../study.js';
import { planningShape } from './planning-shape.js';
import { routineShape } from './routine-shape.js';
import {
  anyTextShape,
  booleanShape,
  choiceShape,
  dateShape,
  elementShape,
  integerShape,
  listShape,
  nullable,
  numberShape,
  objectShape,
  optional,
  type Shape,
  textShape,
} from './shape.js';

const positive = numberShape({ above: 0 });
const atLeastZero = numberShape({ atLeast: 0 });

const person: Shape<PersonRecord> = objectShape<PersonRecord>({
  name: textShape,
  role: textShape,
  authorisedFor: textShape,
  authorisedBy: textShape,
  since: dateShape,
});

const analyte: Shape<AnalyteScope> = objectShape<AnalyteScope>({
  analyte: elementShape,
  lineNm: positive,
  secondLineNm: optional(positive),
  secondLineShare: optional(numberShape({ above: 0, atMost: 1 })),
  measuredIn: choiceShape(['digestion', 'dilution']),
  oxide: optional(textShape),
  unit: choiceShape(['mg/kg', 'g/100 g']),
  signalFloorMgPerKg: positive,
  signalRelative: atLeastZero,
  lowestReported: atLeastZero,
});

const statedInput: Shape<StatedInput> = objectShape<StatedInput>({
  name: choiceShape([
    'density and uptake match',
    'evaporation before reading',
    'retained in fusion',
    'sample heterogeneity',
    'flux lot blank',
    'pump flow ratio',
    'native internal standard',
    'air density',
    'portion density',
  ]),
  analyte: textShape,
  estimate: numberShape(),
  standardUncertainty: atLeastZero,
  unit: anyTextShape,
  distribution: choiceShape(['normal', 'rectangular', 'triangular']),
  source: textShape,
});

const criterion: Shape<PlannedCriterion> = objectShape<PlannedCriterion>({
  characteristic: choiceShape(characteristics),
  analyte: textShape,
  level: textShape,
  kind: choiceShape(['at most', 'at least', 'within']),
  limit: numberShape(),
  lower: optional(numberShape()),
  unit: anyTextShape,
  reason: textShape,
  owner: textShape,
});

const recovery: Shape<PlannedRecovery> = objectShape<PlannedRecovery>({
  analyte: elementShape,
  from: choiceShape(['reference materials', 'additions before fusion']),
  materials: optional(listShape(textShape, 1)),
  correct: choiceShape(['always', 'where significant']),
});

/** What `study.json` must hold. */
export const studyPlanShape: Shape<StudyPlan> = objectShape<StudyPlan>({
  schema: choiceShape(['meltbook study 1']),
  study: textShape,
  title: textShape,
  invented: booleanShape,
  laboratory: textShape,
  line: textShape,
  method: textShape,
  matrix: textShape,
  intendedUse: textShape,
  planDate: dateShape,
  planOwner: textShape,
  people: listShape(person),
  internalStandard: objectShape<StudyPlan['internalStandard']>({
    element: elementShape,
    lineNm: positive,
    mode: choiceShape(['on line', 'in the diluent', 'added to the digestion']),
    doseMgPerKg: positive,
    recoveryLow: positive,
    recoveryHigh: positive,
    nativeLimit: positive,
    solution: optional(
      objectShape<NonNullable<StudyPlan['internalStandard']['solution']>>({
        massFractionMgPerKg: positive,
        relativeStandardUncertainty: atLeastZero,
        densityGPerML: positive,
        source: textShape,
      }),
    ),
  }),
  density: optional(
    objectShape<NonNullable<StudyPlan['density']>>({
      standardUncertaintyGPerML: atLeastZero,
      temperatureC: numberShape(),
      readingTemperatureC: numberShape(),
      readingTemperatureStandardUncertaintyK: atLeastZero,
      expansionPerK: atLeastZero,
      expansionStandardUncertaintyPerK: atLeastZero,
      dilutionGPerML: optional(positive),
      source: textShape,
    }),
  ),
  flask: optional(
    objectShape<NonNullable<StudyPlan['flask']>>({
      equipment: textShape,
      temperatureC: numberShape(),
      temperatureStandardUncertaintyK: atLeastZero,
    }),
  ),
  calibration: objectShape<StudyPlan['calibration']>({ basis: choiceShape(['mg/kg', 'mg/L']) }),
  blank: objectShape<StudyPlan['blank']>({
    scaling: choiceShape(['per flux mass', 'per digestion', 'per flux mass and digestion']),
  }),
  recovery: optional(listShape(recovery)),
  portionsWeighed: optional(choiceShape(solidStates)),
  basis: choiceShape(solidStates),
  nominal: objectShape<StudyPlan['nominal']>({ portionG: positive, fluxG: positive, solutionG: positive }),
  fluxLot: textShape,
  route: choiceShape(['components', 'precision']),
  resultRule: objectShape<StudyPlan['resultRule']>({
    digestions: integerShape({ atLeast: 1 }),
    readings: integerShape({ atLeast: 1 }),
  }),
  driftCheckSolution: textShape,
  blanks: objectShape<StudyPlan['blanks']>({ procedure: textShape, memory: textShape }),
  analytes: listShape(analyte, 1),
  levels: listShape(objectShape<StudyPlan['levels'][number]>({ level: textShape, sample: textShape })),
  stability: nullable(
    objectShape<NonNullable<StudyPlan['stability']>>({
      digestions: listShape(textShape),
      wantedHours: positive,
      allowedChangePercent: positive,
    }),
  ),
  interferenceCheck: nullable(
    objectShape<NonNullable<StudyPlan['interferenceCheck']>>({
      solution: textShape,
      interferent: textShape,
      massFractionMgPerKg: positive,
    }),
  ),
  ruggedness: optional(
    objectShape<NonNullable<StudyPlan['ruggedness']>>({
      analyte: elementShape,
      sample: textShape,
      unit: textShape,
      unusedColumns: listShape(textShape),
    }),
  ),
  detection: optional(
    objectShape<NonNullable<StudyPlan['detection']>>({
      approach: choiceShape(detectionApproachNames),
      lowLevelSample: optional(textShape),
    }),
  ),
  secondSource: optional(objectShape<NonNullable<StudyPlan['secondSource']>>({ solution: textShape })),
  carryOver: optional(objectShape<NonNullable<StudyPlan['carryOver']>>({ solution: textShape })),
  nativeCheckDigestions: listShape(textShape),
  statedInputs: listShape(statedInput),
  criteria: listShape(criterion),
  planning: optional(planningShape),
  routine: optional(routineShape),
  decisionRule: textShape,
  evidence: optional(
    listShape(
      objectShape<EvidenceRecord>({
        clause: choiceShape(evidenceClauses),
        what: textShape,
        keptAt: textShape,
        namedBy: textShape,
        on: dateShape,
      }),
    ),
  ),
  decimalMark: optional(choiceShape(['point', 'comma'])),
});
