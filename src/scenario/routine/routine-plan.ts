import type { SpecificationRecord } from '../../records/routine.js';
import type { StudyPlan } from '../../records/study.js';
import { names } from '../design/components.js';
import { studyPlan } from '../plan/study-plan.js';
import { routineAnalytes } from './routine-materials.js';

export const routineStudyName = 'zircon-routine';

const document = 'order 4471, pigment grade B (invented)';

const specifications: readonly SpecificationRecord[] = [
  { analyte: 'Zr', lower: 60, upper: 65, unit: 'g/100 g', document },
  { analyte: 'Pr', lower: 3.2, upper: 5.8, unit: 'g/100 g', document },
  { analyte: 'Fe', lower: null, upper: 1100, unit: 'mg/kg', document },
];

/** `study.json` of the routine run: the validated method, with specifications in place of a validation's questions. */
export function routinePlan(): StudyPlan {
  const { planning: _, carryOver: __, ...plan } = studyPlan({ stability: [], nativeCheck: [] });
  const kept = [
    'second line',
    'internal standard recovery',
    'check solution',
    'total of oxides',
    'repeatability',
  ];
  return {
    ...plan,
    study: routineStudyName,
    title: 'Routine run R-R1: forty batches of zircon-based ceramic pigment',
    intendedUse: 'Grading of pigment batches by oxide contents and trace impurities',
    planDate: '2026-04-10',
    analytes: plan.analytes.filter(({ analyte }) => (routineAnalytes as readonly string[]).includes(analyte)),
    levels: [],
    stability: null,
    interferenceCheck: null,
    nativeCheckDigestions: [],
    detection: { approach: 'procedure blanks' },
    resultRule: { digestions: 1, readings: names.readings },
    statedInputs: plan.statedInputs.filter(({ analyte }) => analyte !== 'Al'),
    criteria: plan.criteria.filter(
      ({ analyte, characteristic }) => analyte !== 'Al' && kept.includes(characteristic),
    ),
    routine: { validation: names.study, decisionRule: 'guarded acceptance', risk: 0.05, specifications },
    decisionRule:
      'Guarded acceptance with a risk of at most 5 % at each limit (JCGM 106:2012, 8.3.2); stated with each result',
  };
}
