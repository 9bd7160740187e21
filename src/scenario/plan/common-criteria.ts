import type { PlannedCriterion } from '../../records/study.js';
import { rule } from './rule.js';

/** Criteria that hold for all analytes and levels. */
export const commonCriteria: readonly PlannedCriterion[] = [
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
    reason:
      'The main interferent alone must not appear as more than this share of the content at the level low',
  }),
  rule({
    characteristic: 'crucible memory',
    kind: 'at most',
    limit: 0.6,
    unit: '%',
    reason:
      'Neighbours in a routine list differ up to fivefold: 0.6 % of the one before is then 3 % of a result, within the allowed bias',
  }),
  rule({
    characteristic: 'carry-over',
    kind: 'at most',
    limit: 0.1,
    unit: '%',
    reason:
      'Neighbours in a run differ up to twentyfold, own solution and dilution: 0.1 % stays within the allowed bias',
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
    characteristic: 'matrix effect',
    kind: 'within',
    lower: 95,
    limit: 105,
    unit: '%',
    reason: 'Beyond, standards would have to be matched to the matrix, or added to it',
  }),
  rule({
    characteristic: 'method comparison',
    kind: 'within',
    limit: 5,
    unit: '%',
    reason: 'Customers compare results with those of the X-ray method: their mean must agree',
  }),
  rule({
    characteristic: 'second-source standard',
    kind: 'within',
    limit: 3,
    unit: '%',
    reason: 'An error of a stock standard moves every result and is seen by no other check',
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
    reason: 'A sixth of the repeatability allowed at most: weighing then adds less than a fiftieth to it',
  }),
  rule({
    characteristic: 'ruggedness',
    kind: 'within',
    limit: 4,
    unit: '%',
    reason:
      'The two levels of a factor lie four times as far apart as its setting strays in routine: 4 % then moves a result by 1 %',
  }),
  rule({
    characteristic: 'homogeneity',
    kind: 'at most',
    limit: 1,
    unit: '%',
    reason:
      'Half of the standard uncertainty that the target leaves to Zr and Si: heterogeneity then adds an eighth to it at most',
  }),
  rule({
    characteristic: 'sample trend',
    kind: 'within',
    limit: 1.5,
    unit: '%',
    reason: 'Where a solution stands in the sequence must matter less than the allowed bias',
  }),
  rule({
    characteristic: 'shift after change',
    kind: 'within',
    limit: 1,
    unit: '%',
    reason: 'A quarter of the target uncertainty of Zr and Si: old and new results may stand in one series',
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
