import { InputError } from '../../errors.js';
import type { StudyRecords } from '../../records/study-records.js';
import type { CheckSolution } from '../../validation/acceptance/check-solution.js';
import type { InternalStandardRecovery } from '../../validation/acceptance/internal-standard-recovery.js';
import type { TotalOfOxides } from '../../validation/acceptance/total-of-oxides.js';
import type { Linearity } from '../../validation/calibration/linearity.js';
import type { Finding } from '../../validation/finding.js';
import { type AnalyteFitness, fitness } from '../../validation/fitness.js';
import type { Ruggedness } from '../../validation/robustness/ruggedness.js';
import type { InterferenceCheck } from '../../validation/selectivity/interference-check.js';
import type { SecondLine } from '../../validation/selectivity/second-line.js';
import type { CarryOver } from '../../validation/stability/carry-over.js';
import type { CrucibleMemory } from '../../validation/stability/crucible-memory.js';
import type { SolutionStability } from '../../validation/stability/solution-stability.js';
import type { SpikeRecovery } from '../../validation/trueness/spike-recovery.js';
import type { Trueness } from '../../validation/trueness/trueness.js';
import { type EvaluatedStudy, evaluateStudy } from '../evaluate-study.js';
import { checkSolutionStudy, internalStandardStudy, portionWeighingStudy } from './acceptance-study.js';
import { type AnalyteLimits, blankStudy } from './blank-study.js';
import { budgetConditions } from './budget-conditions.js';
import { budgetStudy, type LevelBudget, noStandards } from './budget-study.js';
import { linearityStudy } from './calibration-study.js';
import { carryOverStudy } from './carry-over-study.js';
import { type AnalyteComparison, comparisonStudy } from './comparison-study.js';
import { type AnalyteDetection, detectionStudy } from './detection-study.js';
import { homogeneityStudy, type SampleHomogeneity } from './homogeneity-study.js';
import { type AnalyteMatrixEffect, matrixEffectStudy } from './matrix-effect-study.js';
import { missingFindings } from './missing-findings.js';
import { type LevelPrecision, precisionStudy } from './precision-study.js';
import { ruggednessStudy } from './ruggedness-study.js';
import { type AnalyteSecondSource, secondSourceStudy } from './second-source-study.js';
import { interferenceStudy, nativeStudy, secondLineStudy } from './selectivity-study.js';
import { type AnalyteSeveralMaterials, severalMaterialsStudy } from './several-materials-study.js';
import { memoryStudy, stabilityStudy } from './stability-study.js';
import { totalStudy } from './total-study.js';
import { type AnalyteTrend, trendStudy } from './trend-study.js';
import { recoveryStudy, truenessStudy } from './trueness-study.js';

/** Everything a validation report says, computed from one study's records. */
export interface MatrixValidation {
  /** As they were handed in; `study` holds them without their excluded rows. */
  readonly recorded: StudyRecords;
  readonly study: EvaluatedStudy;
  readonly precision: readonly LevelPrecision[];
  readonly trueness: readonly Trueness[];
  readonly severalMaterials: readonly AnalyteSeveralMaterials[];
  readonly secondSource: readonly AnalyteSecondSource[];
  readonly comparisons: readonly AnalyteComparison[];
  readonly matrixEffects: readonly AnalyteMatrixEffect[];
  readonly recovery: readonly SpikeRecovery[];
  readonly linearity: readonly Linearity[];
  readonly limits: readonly AnalyteLimits[];
  readonly detection: readonly AnalyteDetection[];
  readonly secondLines: readonly SecondLine[];
  readonly interference: readonly InterferenceCheck[];
  readonly native: readonly Finding[];
  readonly memory: readonly CrucibleMemory[];
  readonly carryOvers: readonly CarryOver[];
  readonly stability: readonly SolutionStability[];
  /** Null where no design of deliberate changes is recorded. */
  readonly ruggedness: Ruggedness | null;
  readonly homogeneity: readonly SampleHomogeneity[];
  readonly trends: readonly AnalyteTrend[];
  readonly checkSolutions: readonly CheckSolution[];
  readonly internalStandard: InternalStandardRecovery | null;
  readonly weighing: readonly Finding[];
  readonly totals: readonly TotalOfOxides[];
  readonly budgets: readonly LevelBudget[];
  /** All findings; a criterion of the plan without data stands among them as *not studied*. */
  readonly findings: readonly Finding[];
  readonly fitness: readonly AnalyteFitness[];
}

/**
 * Validates a matrix: from checked records to a verdict for every criterion of the plan.
 *
 * @throws InputError a routine run, or records that the chain cannot combine, with digestion, run or solution named
 * @see ISO/IEC 17025:2017, 7.2.2
 */
export function validateMatrix(records: StudyRecords): MatrixValidation {
  requireValidation(records);
  const study = evaluateStudy(records);
  const precision = precisionStudy(study);
  const trueness = truenessStudy(study);
  const limits = blankStudy(study, precision);
  const memory = memoryStudy(study);
  const stability = stabilityStudy(study);
  const conditions = budgetConditions([
    ...limits.flatMap((l) => l.findings),
    ...[...memory, ...stability].map((m) => m.finding),
  ]);
  const parts = {
    recorded: records,
    study,
    precision,
    trueness,
    severalMaterials: severalMaterialsStudy(study, trueness),
    secondSource: secondSourceStudy(study),
    comparisons: comparisonStudy(study),
    matrixEffects: matrixEffectStudy(study),
    recovery: recoveryStudy(study),
    linearity: linearityStudy(study),
    limits,
    detection: detectionStudy(study, limits),
    secondLines: secondLineStudy(study),
    interference: interferenceStudy(study),
    native: nativeStudy(study),
    memory,
    carryOvers: carryOverStudy(study),
    stability,
    ruggedness: ruggednessStudy(study),
    homogeneity: homogeneityStudy(study),
    trends: trendStudy(study),
    checkSolutions: checkSolutionStudy(study),
    internalStandard: internalStandardStudy(study),
    weighing: portionWeighingStudy(study),
    totals: totalStudy(study),
    budgets: budgetStudy(study, precision, outsideBudget(study, trueness), conditions),
  };
  const found = allFindings(parts);
  const findings = [...found, ...missingFindings(study, found)];
  return { ...parts, findings, fitness: fitness(findings) };
}

/** By analyte, what no budget of it holds: the standards' part where they are not recorded, a bias that was found. */
function outsideBudget(study: EvaluatedStudy, trueness: readonly Trueness[]): Map<string, string> {
  const { plan, standards } = study.index.records;
  const biased = trueness.filter((t) => t.finding.verdict === 'not met');
  const materials = (analyte: string) =>
    biased.filter((t) => t.finding.analyte === analyte).map((t) => t.certified.material);
  return new Map([
    ...(standards.length === 0 ? plan.analytes : []).map((s) => [s.analyte, noStandards] as const),
    ...biased.map(
      ({ finding: { analyte } }) =>
        [analyte, `Trueness against ${materials(analyte).join(' and ')} is not met.`] as const,
    ),
  ]);
}

function allFindings(parts: Omit<MatrixValidation, 'findings' | 'fitness'>): Finding[] {
  return [
    ...parts.precision.flatMap((p) => [p.precision.repeatability, p.precision.intermediatePrecision]),
    ...parts.trueness.map((t) => t.finding),
    ...parts.severalMaterials.map((s) => s.regression.finding),
    ...parts.secondSource.map((s) => s.comparison.finding),
    ...parts.comparisons.map((c) => c.comparison.finding),
    ...parts.matrixEffects.map((m) => m.effect.finding),
    ...parts.recovery.map((r) => r.finding),
    ...parts.linearity.map((l) => l.finding),
    ...parts.limits.flatMap((l) => l.findings),
    ...parts.budgets.map((b) => b.finding),
    ...parts.secondLines.map((s) => s.finding),
    ...parts.interference.map((i) => i.finding),
    ...parts.memory.map((m) => m.finding),
    ...parts.carryOvers.map((c) => c.finding),
    ...parts.stability.map((s) => s.finding),
    ...(parts.ruggedness === null ? [] : [parts.ruggedness.finding]),
    ...parts.homogeneity.map((h) => h.homogeneity.finding),
    ...parts.trends.map((t) => t.trend.finding),
    ...parts.native,
    ...(parts.internalStandard === null ? [] : [parts.internalStandard.finding]),
    ...parts.checkSolutions.map((c) => c.finding),
    ...parts.totals.map((t) => t.finding),
    ...parts.weighing,
  ];
}

function requireValidation({ plan }: StudyRecords): void {
  if (plan.routine === undefined) return;
  throw new InputError(
    `study ${plan.study}: found a routine run (key "routine" in its plan), expected the validation of a matrix; for the results of a routine run use notebook 40-results-with-uncertainty`,
  );
}
