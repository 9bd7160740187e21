import { characteristics } from '../../validation/characteristic.js';
import { detectionApproachNames } from '../../validation/detection/detection-approaches.js';
import { type EvidenceRecord, evidenceClauses } from '../evidence.js';
import type { Expectation, PlanningRecord } from '../planning.js';
import type { RoutineRecord, SpecificationRecord } from '../routine.js';
import type { AnalyteScope, PersonRecord, PlannedCriterion, StatedInput, StudyPlan } from '../study.js';

/** What every key of a record says: a key that has no words here does not compile. */
export type KeyMeanings<T> = { readonly [K in keyof Required<T>]: string };

/** The keys inside one key of `study.json`, and which of them may be left out. */
export interface PlanPart {
  readonly keys: Readonly<Record<string, string>>;
  readonly optional: readonly string[];
}

const named = (words: readonly string[]): string => words.map((word) => `\`${word}\``).join(', ');

function within(keys: PlanPart['keys']): string {
  return Object.entries(keys)
    .map(([key, means]) => `\`${key}\` (${means})`)
    .join(', ');
}

const person: KeyMeanings<PersonRecord> = {
  name: 'name',
  role: 'function in the laboratory',
  authorisedFor: 'what for',
  authorisedBy: 'by whom',
  since: 'date',
};

const internalStandard: KeyMeanings<StudyPlan['internalStandard']> = {
  element: 'symbol',
  lineNm: 'its line, nm',
  mode: '`on line` (by the pump, to all solutions alike), `in the diluent` or `added to the digestion`',
  doseMgPerKg: 'its mass fraction in the solution at the plasma, mg/kg',
  recoveryLow: 'lowest signal allowed, relative to the standards',
  recoveryHigh: 'highest signal allowed, relative to the standards',
  nativeLimit: 'largest native amount allowed, relative to the dose',
  solution:
    'the solution it is added as, unless it is added on line: `massFractionMgPerKg`, `relativeStandardUncertainty`, `densityGPerML`, `source`',
};

const density: KeyMeanings<NonNullable<StudyPlan['density']>> = {
  standardUncertaintyGPerML: 'of a density, g/mL',
  temperatureC: 'at which densities were measured, °C',
  readingTemperatureC: 'of the solutions while they are read, °C',
  readingTemperatureStandardUncertaintyK: 'its standard uncertainty, K',
  expansionPerK: 'cubic expansion of the solutions, 1/K',
  expansionStandardUncertaintyPerK: 'its standard uncertainty, 1/K',
  dilutionGPerML: 'of the further dilutions; needed where one is read',
  source: 'where the figures come from',
};

const flask: KeyMeanings<NonNullable<StudyPlan['flask']>> = {
  equipment: 'the flask, by its name in equipment.json',
  temperatureC: 'while it is made up, °C',
  temperatureStandardUncertaintyK: 'its standard uncertainty, K',
};

const analyte: KeyMeanings<AnalyteScope> = {
  analyte: 'symbol of the element',
  lineNm: 'line that results are taken from, nm',
  secondLineNm: 'a second line, read to test selectivity',
  secondLineShare:
    'share of the second line in the result, above 0 and below 1: both lines together then give it; left out: the own line alone',
  measuredIn: '`digestion` or `dilution`: the solution that is read',
  oxide: 'formula of the oxide reported; left out: the element',
  unit: '`mg/kg` or `g/100 g`',
  signalFloorMgPerKg: 'standard deviation of one signal at content 0, mg/kg in the solution read',
  signalRelative: 'standard deviation of one signal at high content, relative',
  lowestReported: 'lowest content that is to be reported, in the unit above',
};

const statedInput: KeyMeanings<StatedInput> = {
  name: named([
    'density and uptake match',
    'evaporation before reading',
    'retained in fusion',
    'sample heterogeneity',
    'flux lot blank',
    'pump flow ratio',
    'native internal standard',
    'air density',
    'portion density',
  ] satisfies StatedInput['name'][]),
  analyte: 'symbol of the element, or `*` for all',
  estimate: 'value',
  standardUncertainty: 'its standard uncertainty, same unit',
  unit: 'unit; `1` for a factor',
  distribution: '`normal`, `rectangular` or `triangular`',
  source: 'why this value',
};

const criterion: KeyMeanings<PlannedCriterion> = {
  characteristic: named(characteristics),
  analyte: 'symbol of the element, or `*` for all',
  level: 'level, material or solution, or `*` for all; the most specific criterion counts',
  kind: '`at most`, `at least` or `within`; `within` for what lies on either side of 0, such as trueness',
  limit: 'the limit; `within` alone allows from −limit to limit',
  lower: 'lower limit of `within`, where it is not −limit',
  unit: 'unit of the limits; `%` is relative to the content',
  reason: 'customer, regulation or function that asks for it',
  owner: 'who answers for it',
};

const expectation: KeyMeanings<Expectation> = {
  analyte: 'symbol',
  level: 'level, or `*`',
  dayPercent: 'standard deviation between days',
  digestionPercent: 'standard deviation between digestions of one day',
  biasPercent: 'largest bias thought likely',
  certifiedPercent: 'standard uncertainty of the certified value',
  recoveryPercent: 'standard deviation of one recovery; null where nothing is added',
  additionPercent: 'standard uncertainty of the amount added; null where nothing is added',
  calibrationPercent: 'standard deviation over runs of a standard read back at its worst level',
  limitOfQuantification: 'in the unit of the analyte',
  source: 'pilot work, a similar matrix, judgement',
};

const planning: KeyMeanings<PlanningRecord> = {
  power: 'probability wanted of each criterion that it is shown',
  mostDays: 'days there are at most',
  mostDigestionsPerDayAndLevel: 'digestions of one level in a day at most',
  digestionsADay: 'digestions the line does in a day',
  minutesPerFusion: 'duration of a fusion, min',
  cruciblesAtOnce: 'crucibles fused at once',
  referenceMaterials: 'how many there are',
  otherDigestions: 'digestions beyond precision, trueness, spikes and blanks',
  expectations: `what is expected, an entry for each analyte, percentages of the content: ${within(expectation)}`,
};

const specification: KeyMeanings<SpecificationRecord> = {
  analyte: 'symbol',
  lower: 'null where there is none',
  upper: 'null where there is none',
  unit: 'as for the analyte',
  document: 'where the limits stand',
};

const routine: KeyMeanings<RoutineRecord> = {
  validation: 'the study that validated the method, by the key `study` of its plan',
  decisionRule: '`simple acceptance`, `guarded acceptance` or `guarded rejection`',
  risk: 'largest probability of a wrong decision, for the guarded rules',
  specifications: `limits, an entry for each analyte: ${within(specification)}`,
};

const part = (keys: PlanPart['keys'], ...optional: string[]): PlanPart => ({ keys, optional });

/** Keys of `study.json` that hold keys of their own; `blank` and `recovery` have a heading of their own in the guide. */
export const planParts: Readonly<Partial<Record<keyof StudyPlan, PlanPart>>> = {
  people: part(person),
  internalStandard: part(internalStandard, 'solution'),
  density: part(density, 'dilutionGPerML'),
  flask: part(flask),
  nominal: part({
    portionG: 'portion of the sample',
    fluxG: 'flux',
    solutionG: 'solution',
  } satisfies KeyMeanings<StudyPlan['nominal']>),
  resultRule: part({
    digestions: 'digestions, all of one day',
    readings: 'readings of each',
  } satisfies KeyMeanings<StudyPlan['resultRule']>),
  blanks: part({
    procedure: 'the whole procedure without sample',
    memory: 'fused in a crucible straight after a rich sample',
  } satisfies KeyMeanings<StudyPlan['blanks']>),
  analytes: part(analyte, 'secondLineNm', 'oxide'),
  levels: part({
    level: 'name of the level, as criteria use it',
    sample: 'sample, as digestions name it',
  } satisfies KeyMeanings<StudyPlan['levels'][number]>),
  stability: part({
    digestions: 'digestions that are read again in later runs',
    wantedHours: 'longest time to reading that is wanted, h',
    allowedChangePercent: 'largest change allowed by then, % of the first reading',
  } satisfies KeyMeanings<NonNullable<StudyPlan['stability']>>),
  interferenceCheck: part({
    solution: 'its name in readings',
    interferent: 'symbol of the element in it',
    massFractionMgPerKg: 'its content, mg/kg',
  } satisfies KeyMeanings<NonNullable<StudyPlan['interferenceCheck']>>),
  ruggedness: part({
    analyte: 'symbol of the element',
    sample: 'sample that was digested',
    unit: 'unit of the response',
    unusedColumns: 'columns of the table that carry no factor: their effects are scatter',
  } satisfies KeyMeanings<NonNullable<StudyPlan['ruggedness']>>),
  detection: part(
    {
      approach: named(detectionApproachNames),
      lowLevelSample:
        'a sample with contents about the limits of quantification, digested as often as a reported result asks on several days (at least 6 digestions, better 16), to confirm these limits',
    } satisfies KeyMeanings<NonNullable<StudyPlan['detection']>>,
    'lowLevelSample',
  ),
  statedInputs: part(statedInput),
  criteria: part(criterion, 'lower'),
  planning: part(planning),
  evidence: part({
    clause: `of ISO/IEC 17025:2017, one of ${evidenceClauses.join(', ')}`,
    what: 'what it is, such as the record of a decision (7.10) or the evaluation of a supplier (6.6)',
    keptAt: 'where it is kept',
    namedBy: 'who says so',
    on: 'date on which it was said',
  } satisfies KeyMeanings<EvidenceRecord>),
  routine: part(routine),
};
