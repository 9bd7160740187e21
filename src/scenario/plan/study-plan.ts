import type { EvidenceRecord } from '../../records/evidence.js';
import type { AnalyteScope, PersonRecord, StudyPlan } from '../../records/study.js';
import { type Analyte, analyteDesigns, analyteNames } from '../design/analytes.js';
import { names, nominal } from '../design/components.js';
import { ruggednessFactors } from '../tables/factors.js';
import { plannedCriteria } from './criteria.js';
import { planning } from './planning.js';
import { statedInputs } from './stated-inputs.js';

/** Operators of line F2, who take turns by day. */
export const operators = ['R. Tamworthy', 'J. Ellesby'] as const;

const people: readonly PersonRecord[] = [
  person('S. Varrendale', 'method owner', 'plan, evaluation and release of QML-F2-07', 'D. Holmcroft'),
  person(
    'D. Holmcroft',
    'technical manager',
    'authorisation of methods and people',
    'board of the laboratory',
  ),
  person(operators[0], 'analyst', 'fusion on F2, weighing, ICP-OES', 'S. Varrendale'),
  person(operators[1], 'analyst', 'fusion on F2, weighing, ICP-OES', 'S. Varrendale'),
];

function person(name: string, role: string, authorisedFor: string, authorisedBy: string): PersonRecord {
  return { name, role, authorisedFor, authorisedBy, since: '2025-03-03' };
}

function scopeOf(analyte: Analyte): AnalyteScope {
  const design = analyteDesigns[analyte];
  return {
    analyte,
    lineNm: design.lineNm,
    ...(design.secondLineNm === undefined ? {} : { secondLineNm: design.secondLineNm }),
    measuredIn: design.measuredIn,
    oxide: design.oxide,
    unit: design.unit,
    signalFloorMgPerKg: design.signalFloor,
    signalRelative: design.signalRelative,
    lowestReported: design.lowestReported,
  };
}

/** Two places as an example; the other gaps stay open for the report to name. */
const evidenceElsewhere: readonly EvidenceRecord[] = [
  evidence('7.3', 'sampling plan of pigment batches', 'document control, SP-031'),
  evidence('8.8', 'audit of the fusion line, 2025', 'quality office, folder A-25'),
];

function evidence(clause: EvidenceRecord['clause'], what: string, keptAt: string): EvidenceRecord {
  return { clause, what, keptAt, namedBy: 'D. Holmcroft', on: '2026-02-16' };
}

/** Digestions that the plan names because the study reads them for a purpose of their own. */
export interface NamedDigestions {
  readonly stability: readonly string[];
  readonly nativeCheck: readonly string[];
}

/** The content of `study.json`. */
export function studyPlan(named: NamedDigestions): StudyPlan {
  return {
    schema: 'meltbook study 1',
    study: names.study,
    title: 'Validation of borate fusion with ICP-OES for a zircon-based ceramic pigment',
    invented: true,
    laboratory: 'Quillmere Materials Laboratory',
    line: 'fusion line F2',
    method: 'QML-F2-07',
    matrix: 'zircon-based ceramic pigment',
    intendedUse: 'Grading of pigment batches by oxide contents and trace impurities',
    planDate: '2026-02-16',
    planOwner: 'S. Varrendale',
    people,
    internalStandard: {
      element: names.internalStandard,
      lineNm: names.internalStandardLineNm,
      mode: 'on line',
      doseMgPerKg: nominal.internalStandardMgPerKg,
      recoveryLow: 0.9,
      recoveryHigh: 1.1,
      nativeLimit: 0.001,
    },
    calibration: { basis: 'mg/kg' },
    blank: { scaling: 'per flux mass' },
    portionsWeighed: 'as received',
    basis: 'dry',
    nominal: { portionG: nominal.portionG, fluxG: nominal.fluxG, solutionG: nominal.solutionG },
    fluxLot: 'LM-2217',
    route: 'components',
    resultRule: { digestions: 2, readings: names.readings },
    driftCheckSolution: names.checkSolution,
    blanks: { procedure: names.procedureBlank, memory: names.memoryBlank },
    analytes: analyteNames.map(scopeOf),
    levels: [
      { level: 'low', sample: 'ZP-1' },
      { level: 'middle', sample: 'ZP-2' },
      { level: 'high', sample: 'ZP-3' },
    ],
    stability: { digestions: named.stability, wantedHours: 96, allowedChangePercent: 2 },
    interferenceCheck: {
      solution: names.interferenceSolution,
      interferent: 'Zr',
      massFractionMgPerKg: nominal.checkInterferentMgPerKg,
    },
    ruggedness: {
      analyte: 'Zr',
      sample: 'ZP-2',
      unit: analyteDesigns.Zr.unit,
      unusedColumns: ruggednessFactors.filter((factor) => factor.startsWith('unused')),
    },
    detection: { approach: 'procedure blanks', lowLevelSample: names.lowLevelSample },
    secondSource: { solution: names.checkSolution },
    carryOver: { solution: names.carryOverSolution },
    nativeCheckDigestions: named.nativeCheck,
    statedInputs,
    criteria: plannedCriteria(),
    planning,
    evidence: evidenceElsewhere,
    decisionRule:
      'Simple acceptance against the specification limit; the expanded uncertainty is stated with the result (ILAC-G8:2019)',
  };
}
