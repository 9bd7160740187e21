import { type Ruggedness, ruggedness } from '../../validation/robustness/ruggedness.js';
import type { EvaluatedStudy } from '../evaluate-study.js';
import { criterionFor } from './matrix-context.js';

/** Fewest experiments that leave anything to compare. */
const leastExperiments = 4;

/**
 * Effects of deliberate changes, from the table of factors; null where there is none or the plan does not say what its
 * responses are. The scatter comes from the design's unused columns, else from its small effects.
 */
export function ruggednessStudy(study: EvaluatedStudy): Ruggedness | null {
  const { plan, factors } = study.index.records;
  if (plan.ruggedness === undefined || factors.length < leastExperiments) return null;
  const { analyte, sample, unit, unusedColumns } = plan.ruggedness;
  const columns = Object.keys(factors[0]!.levels);
  return ruggedness(
    factors.map(({ experiment, levels, response }) => ({ key: `${experiment}`, levels, response })),
    {
      analyte,
      level: sample,
      unit,
      criterion: criterionFor(plan, 'ruggedness', analyte, sample),
      spread: null,
      dummies: unusedColumns.filter((column) => columns.includes(column)),
    },
  );
}
