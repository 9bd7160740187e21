import type { PlannedCriterion } from '../../records/study.js';
import { type Analyte, analyteDesigns, analyteNames } from '../design/analytes.js';

const methodOwner = 'S. Varrendale, method owner';
const customerDesk = 'P. Oakhollow, customer desk';

type Rule = Pick<PlannedCriterion, 'characteristic' | 'kind' | 'limit' | 'unit' | 'reason'> &
  Partial<Pick<PlannedCriterion, 'analyte' | 'level' | 'lower' | 'owner'>>;

function rule(given: Rule): PlannedCriterion {
  return { analyte: '*', level: '*', owner: methodOwner, ...given };
}

/** Limits that differ between analytes, in %. */
const limitsByAnalyte: Readonly<Record<Analyte, AnalyteLimits>> = {
  Zr: { repeatability: 1.8, intermediate: 2.2, bias: 2.5, target: 4, linearity: 3, recovery: null },
  Si: { repeatability: 1.8, intermediate: 2.2, bias: 2.5, target: 4, linearity: 3, recovery: null },
  Pr: { repeatability: 1.8, intermediate: 2.5, bias: 3, target: 5, linearity: 3, recovery: 6 },
  Hf: { repeatability: 1.8, intermediate: 2.5, bias: 3, target: 5, linearity: 3, recovery: 6 },
  Al: { repeatability: 2.5, intermediate: 3, bias: 4, target: 8, linearity: 5, recovery: 8 },
  Fe: { repeatability: 2.5, intermediate: 3, bias: 4, target: 8, linearity: 5, recovery: 8 },
  Ti: { repeatability: 2.5, intermediate: 3, bias: 4, target: 8, linearity: 5, recovery: 8 },
  Ca: { repeatability: 3, intermediate: 4, bias: 6, target: 10, linearity: 5, recovery: 10 },
};

interface AnalyteLimits {
  readonly repeatability: number;
  readonly intermediate: number;
  readonly bias: number;
  readonly target: number;
  readonly linearity: number;
  /** Allowed departure of a recovery from 100 %; null where nothing is added. */
  readonly recovery: number | null;
}

function precisionRules(analyte: Analyte): PlannedCriterion[] {
  const limits = limitsByAnalyte[analyte];
  return [
    rule({
      characteristic: 'repeatability',
      analyte,
      kind: 'at most',
      limit: limits.repeatability,
      unit: '%',
      reason: 'Two digestions of one day must agree well enough that a second pair is rarely needed',
    }),
    rule({
      characteristic: 'intermediate precision',
      analyte,
      kind: 'at most',
      limit: limits.intermediate,
      unit: '%',
      reason: 'Leaves room for calibration, blank and reference materials below the target uncertainty',
    }),
    rule({
      characteristic: 'target uncertainty',
      analyte,
      kind: 'at most',
      limit: limits.target,
      unit: '%',
      reason: 'Batches of pigment are graded in steps of three times this expanded uncertainty',
      owner: customerDesk,
    }),
    rule({
      characteristic: 'trueness',
      analyte,
      kind: 'within',
      limit: limits.bias,
      unit: '%',
      reason: 'A bias of this size moves no batch by more than one third of a grade',
      owner: customerDesk,
    }),
    rule({
      characteristic: 'linearity',
      analyte,
      kind: 'within',
      limit: limits.linearity,
      unit: '%',
      reason: 'Back-calculated standards must not add more than the allowed bias at any level',
    }),
  ];
}

function recoveryRules(analyte: Analyte): PlannedCriterion[] {
  const allowed = limitsByAnalyte[analyte].recovery;
  if (allowed === null) return [];
  const stages = ['recovery before fusion', 'recovery after dissolution'];
  return stages.map((characteristic) =>
    rule({
      characteristic,
      analyte,
      kind: 'within',
      lower: 100 - allowed,
      limit: 100 + allowed,
      unit: '%',
      reason:
        'Losses and matrix effects must stay small against the allowed bias; six additions of one to two times the native amount',
    }),
  );
}

function limitRules(analyte: Analyte): PlannedCriterion[] {
  const { lowestReported, unit } = analyteDesigns[analyte];
  return [
    rule({
      characteristic: 'limit of quantification',
      analyte,
      kind: 'at most',
      limit: lowestReported,
      unit,
      reason: 'The lowest mass fraction that customers ask to have reported',
      owner: customerDesk,
    }),
    rule({
      characteristic: 'procedure blank',
      analyte,
      kind: 'at most',
      limit: Number((0.4 * lowestReported).toPrecision(3)),
      unit,
      reason:
        'A blank above two fifths of the lowest reported mass fraction would rule the uncertainty there',
    }),
  ];
}

const commonRules: readonly PlannedCriterion[] = [
  rule({
    characteristic: 'second line',
    kind: 'within',
    limit: 3,
    unit: '%',
    reason: 'Two lines of one analyte that differ by more point to an overlap on one of them',
  }),
  rule({
    characteristic: 'interference check',
    kind: 'within',
    limit: 5,
    unit: '%',
    reason: 'The main interferent alone must not feign more than this share of the lowest level',
  }),
  rule({
    characteristic: 'crucible memory',
    kind: 'at most',
    limit: 0.6,
    unit: '%',
    reason: 'Neighbours in the sample list differ up to fivefold: 0.6 % then stays within the allowed bias',
  }),
  rule({
    characteristic: 'solution stability',
    kind: 'at least',
    limit: 96,
    unit: 'h',
    reason: 'Solutions are kept over a long weekend; until read they may change by 2 % at most',
  }),
  rule({
    characteristic: 'native internal standard',
    kind: 'at most',
    limit: 0.1,
    unit: '%',
    reason:
      'A native amount of the internal-standard element lowers every result of the solution by its share',
  }),
  rule({
    characteristic: 'internal standard recovery',
    kind: 'within',
    lower: 90,
    limit: 110,
    unit: '%',
    reason: 'Outside, matrix or uptake differ too much for a ratio to correct',
  }),
  rule({
    characteristic: 'check solution',
    kind: 'within',
    limit: 5,
    unit: '%',
    reason: 'Drift up to this size is followed by the check solution; beyond it the run is repeated',
  }),
  rule({
    characteristic: 'total of oxides',
    kind: 'within',
    lower: 97.5,
    limit: 102.5,
    unit: 'g/100 g',
    reason: 'Screens for a missed constituent, a wrong portion or a lost part of the melt',
  }),
  rule({
    characteristic: 'weighing of the portion',
    kind: 'at most',
    limit: 0.3,
    unit: '%',
    reason: 'Weighing must stay below half of the repeatability of digestion',
  }),
  rule({
    characteristic: 'shift after change',
    kind: 'within',
    limit: 1,
    unit: '%',
    reason: 'A quarter of the target uncertainty of the majors: old and new results may stand in one series',
  }),
  rule({
    characteristic: 'precision after change',
    kind: 'at most',
    limit: 2.5,
    unit: '1',
    reason:
      'Ratio of standard deviations: two and a half times that before the change still keeps the target uncertainty',
  }),
];

/** Every criterion of the plan, with reason and owner. */
export function plannedCriteria(): PlannedCriterion[] {
  return [
    ...analyteNames.flatMap((analyte) => [
      ...precisionRules(analyte),
      ...recoveryRules(analyte),
      ...limitRules(analyte),
    ]),
    ...commonRules,
  ];
}
