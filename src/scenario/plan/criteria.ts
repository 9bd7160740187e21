import type { PlannedCriterion } from '../../records/study.js';
import { type Analyte, analyteDesigns, analyteNames } from '../design/analytes.js';
import { commonCriteria } from './common-criteria.js';
import { customerDesk, rule } from './rule.js';

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
      reason: 'The mean of two digestions must scatter so little that a second pair is rarely needed',
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
      reason: 'The largest expanded uncertainty that customers accept for the grading of batches',
      owner: customerDesk,
    }),
    rule({
      characteristic: 'trueness',
      analyte,
      kind: 'within',
      limit: limits.bias,
      unit: '%',
      reason:
        'Stays below the target uncertainty, so that a bias of this size moves no batch into another grade by itself',
      owner: customerDesk,
    }),
    rule({
      characteristic: 'linearity',
      analyte,
      kind: 'within',
      limit: limits.linearity,
      unit: '%',
      reason:
        'Back-calculated standards hold their own preparation too, so that up to a quarter more than the allowed bias is left to them',
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

/** Every criterion of the plan, with reason and owner. */
export function plannedCriteria(): PlannedCriterion[] {
  return [
    ...analyteNames.flatMap((analyte) => [
      ...precisionRules(analyte),
      ...recoveryRules(analyte),
      ...limitRules(analyte),
    ]),
    ...commonCriteria,
  ];
}
