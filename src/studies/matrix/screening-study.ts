import { precision } from '../../validation/precision/precision.js';
import { type ScreeningTests, screeningTests } from '../../validation/precision/screening-tests.js';
import { criterionFor } from './matrix-context.js';
import { type LevelPrecision, repeatedOverDays } from './precision-study.js';
import type { MatrixValidation } from './validate-matrix.js';

/** Screening of one analyte at one level, and what its flagged digestions do to the precision. */
export interface LevelScreening {
  readonly level: LevelPrecision;
  readonly tests: ScreeningTests;
  readonly flagged: readonly string[];
  /** Precision as if the flagged digestions were not there: shown beside, never used; null where none is flagged or too few are left. */
  readonly without: LevelPrecision['precision'] | null;
}

/** Screening of every analyte at every level where precision was studied. Nothing is left out by it. */
export function screeningStudy({ precision: levels, study }: MatrixValidation): LevelScreening[] {
  const { plan } = study.index.records;
  return levels.map((level) => {
    const tests = screeningTests(level.rows);
    const flagged = [...new Set(tests.flags.flatMap((flag) => flag.digestions))];
    const rest = level.rows.filter((row) => !flagged.includes(row.key));
    return {
      level,
      tests,
      flagged,
      without:
        flagged.length === 0 || !repeatedOverDays(rest)
          ? null
          : precision(rest, {
              analyte: level.analyte,
              level: level.level,
              unit: level.unit,
              digestionsPerResult: plan.resultRule.digestions,
              repeatabilityCriterion: criterionFor(plan, 'repeatability', level.analyte, level.level),
              intermediateCriterion: criterionFor(plan, 'intermediate precision', level.analyte, level.level),
            }),
    };
  });
}
