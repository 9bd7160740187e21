import type { Blank, BlankAmount } from '../../chain/blank.js';
import type { StudyPlan } from '../../records/study.js';
import { mean } from '../../statistics/descriptive/mean.js';
import { type DetectionLimits, detectionLimits } from '../../validation/detection/detection-limits.js';
import { type ProcedureBlank, procedureBlank } from '../../validation/detection/procedure-blank.js';
import {
  type QuantificationLimit,
  quantificationLimit,
} from '../../validation/detection/quantification-limit.js';
import type { Finding } from '../../validation/finding.js';
import { notStudied } from '../../validation/not-studied.js';
import type { BlankEvaluation, EvaluatedStudy } from '../evaluate-study.js';
import { type CorrectionAtZero, correctionAtZero, describeCorrection } from './correction-at-zero.js';
import { criterionFor, lowestLevel, solidPerMg } from './matrix-context.js';
import type { LevelPrecision } from './precision-study.js';
import { confirmations } from './quantification-study.js';

/** Blank, detection and quantification of one analyte; the limits are null where the blanks give no spread. */
export interface AnalyteLimits {
  readonly analyte: string;
  readonly unit: string;
  readonly rows: readonly { readonly key: string; readonly run: string; readonly value: number }[];
  readonly excluded: readonly string[];
  readonly blank: ProcedureBlank | null;
  /** What the interference correction adds at content 0; null where there is none. */
  readonly correction: CorrectionAtZero | null;
  readonly detection: DetectionLimits | null;
  readonly quantification: QuantificationLimit | null;
  readonly findings: readonly Finding[];
}

/** Blanks and limits of every analyte, as mass fractions in the solid at nominal portion and flux. */
export function blankStudy(study: EvaluatedStudy, precisions: readonly LevelPrecision[]): AnalyteLimits[] {
  return study.index.records.plan.analytes.map(({ analyte }) => limitsOf(study, analyte, precisions));
}

function limitsOf(
  study: EvaluatedStudy,
  analyte: string,
  precisions: readonly LevelPrecision[],
): AnalyteLimits {
  const { plan } = study.index.records;
  const { unit } = study.index.scopes.get(analyte)!;
  const evaluation = study.blanks.get(analyte)!;
  const perMg = study.results.some((r) => r.analyte === analyte) ? solidPerMg(study, analyte) : 1;
  const runOf = (digestion: string) =>
    study.results.find((r) => r.digestion === digestion && r.analyte === analyte)?.run ?? '';
  const rows = evaluation.amounts.map((a) => ({
    key: a.digestion,
    run: runOf(a.digestion),
    value: atNominalFlux(a, plan, evaluation.blank) * perMg,
  }));
  const options = (characteristic: 'procedure blank' | 'limit of quantification') => ({
    analyte,
    level: 'blank',
    unit,
    criterion: criterionFor(plan, characteristic, analyte, 'blank'),
  });
  const correction = correctionAtZero(study, analyte);
  const base = { analyte, unit, rows, excluded: evaluation.excluded, correction };
  if (rows.length === 0) {
    const missing = 'no procedure blank was read';
    return {
      ...base,
      blank: null,
      detection: null,
      quantification: null,
      findings: [
        notStudied('procedure blank', options('procedure blank'), missing),
        notStudied('limit of quantification', options('limit of quantification'), missing),
      ],
    };
  }
  const blank = procedureBlank(rows, {
    ...options('procedure blank'),
    subtracted: 'over all runs',
    digestionsPerResult: plan.resultRule.digestions,
    excluded: evaluation.excluded.length,
    ...lineOptions(evaluation, plan.nominal.fluxG),
  });
  const detection =
    blank.atZero === null
      ? null
      : detectionLimits(blank.atZero, {
          spreadIs: 'of a result',
          ...(correction === null ? {} : { correctionStandardUncertainty: correction.inSolid }),
        });
  const usable = detection?.missing === null ? detection : null;
  const target = quantificationTarget(study, analyte, precisions);
  const quantification = quantificationLimit({
    ...options('limit of quantification'),
    standardDeviationAtZero: usable?.standardDeviationAtZero.inSolid ?? null,
    limitsAtZero: usable?.standardDeviationLimits95 ?? null,
    degreesOfFreedom: usable?.degreesOfFreedom ?? null,
    ...target,
    confirm: (limit) => confirmations(study, analyte, limit, target.targetRelative ?? 0.1),
    blanks: blank.n,
    tooFew: blank.tooFew ?? detection?.missing ?? null,
    ...(correction === null ? {} : { notes: [describeCorrection(correction)] }),
    rows: [{ table: 'digestions', keys: rows.map((r) => r.key) }],
  });
  return { ...base, blank, detection, quantification, findings: [blank.finding, quantification.finding] };
}

/** Amount of one blank, mg, brought to the nominal mass of flux by the study's rule. */
function atNominalFlux(
  { amountMg, fluxG }: BlankAmount,
  { blank: rule, nominal }: StudyPlan,
  blank: Blank | null,
) {
  if (rule.scaling === 'per flux mass') return (amountMg / fluxG) * nominal.fluxG;
  if (blank?.scaling !== 'per flux mass and digestion') return amountMg;
  return amountMg + blank.perFluxMass * (nominal.fluxG - fluxG);
}

/** Variance of a line through the blanks at the nominal mass of flux, as a share of that of one blank. */
function lineOptions({ blank, amounts }: BlankEvaluation, nominalFluxG: number) {
  if (blank?.scaling !== 'per flux mass and digestion') return {};
  const fluxes = amounts.map((a) => a.fluxG);
  const centre = mean(fluxes);
  const spread = fluxes.reduce((sum, flux) => sum + (flux - centre) ** 2, 0);
  return { line: { share: 1 / fluxes.length + (nominalFluxG - centre) ** 2 / spread } };
}

/**
 * The target at the limit of quantification is the target uncertainty of the level of lowest content of the analyte (k = 2); the part proportional
 * to content is the largest relative intermediate precision over the levels. Without a target the convention of ten
 * standard deviations stands in.
 */
function quantificationTarget(study: EvaluatedStudy, analyte: string, precisions: readonly LevelPrecision[]) {
  const { plan } = study.index.records;
  const lowest = lowestLevel(study, analyte)?.level ?? '*';
  const target = criterionFor(plan, 'target uncertainty', analyte, lowest);
  const own = precisions.filter((p) => p.analyte === analyte).map((p) => p.precision);
  if (target === null || target.unit !== '%' || own.length === 0)
    return { approach: 'ten standard deviations' as const };
  return {
    approach: 'target uncertainty' as const,
    targetRelative: target.limit / 100 / 2,
    proportionalRelative: Math.max(...own.map((p) => p.overDays.value / p.components.mean)),
  };
}
