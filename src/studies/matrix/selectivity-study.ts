import { contentOfRatio } from '../../chain/calibration.js';
import { resultValue } from '../../chain/result-model.js';
import { mean } from '../../statistics/descriptive/mean.js';
import type { Finding } from '../../validation/finding.js';
import {
  type InterferenceCheck,
  interferenceCheck,
} from '../../validation/selectivity/interference-check.js';
import { nativeInternalStandard } from '../../validation/selectivity/native-internal-standard.js';
import { type SecondLine, secondLine } from '../../validation/selectivity/second-line.js';
import { driftOfRun } from '../drift-of-run.js';
import type { DigestionResult, EvaluatedStudy } from '../evaluate-study.js';
import { observe } from '../observations.js';
import { calibrationKey, signalOfStandard } from '../run-calibrations.js';
import { usable } from '../study-index.js';
import { furtherDilution, solidPerSolutionUnit } from './calibration-study.js';
import { criterionFor, hasContent, lowestLevel, resultsOf } from './matrix-context.js';

/** Agreement of two lines, for every analyte with a second one; over all samples of the precision levels. */
export function secondLineStudy(study: EvaluatedStudy): SecondLine[] {
  const { plan } = study.index.records;
  return plan.analytes.flatMap(({ analyte, lineNm, secondLineNm, unit }) => {
    if (secondLineNm === undefined) return [];
    const rows = plan.levels
      .flatMap(({ sample }) => resultsOf(study, analyte, 'sample', sample))
      .flatMap((r) => {
        const other = observe(study.index, r.digestion, analyte, r.observation.blank, {
          lineNm: secondLineNm,
        });
        return other === null
          ? []
          : [{ key: r.digestion, day: r.day, first: ownLine(study, r), second: resultValue(other) }];
      });
    if (rows.length === 0 || rows.some((row) => row.first <= 0)) return [];
    const level = plan.levels.map((l) => l.level).join(', ');
    const criterion = criterionFor(plan, 'second line', analyte, level);
    return [secondLine(rows, { analyte, level, unit, criterion, firstLineNm: lineNm, secondLineNm })];
  });
}

/** The result by the own line alone, also where the plan reports both lines together. */
function ownLine(study: EvaluatedStudy, result: DigestionResult & { readonly value: number }): number {
  const { observation, digestion, analyte } = result;
  if (observation.lines === undefined) return result.value;
  const { lineNm } = study.index.scopes.get(analyte)!;
  return resultValue(observe(study.index, digestion, analyte, observation.blank, { lineNm })!);
}

/** What the solution of the interferent alone feigns on the line of every other analyte read in it. */
export function interferenceStudy(study: EvaluatedStudy): InterferenceCheck[] {
  const { plan, interference } = study.index.records;
  const check = plan.interferenceCheck;
  if (check === null) return [];
  return plan.analytes.flatMap(({ analyte, lineNm, unit }) => {
    const lowest = lowestLevel(study, analyte);
    if (analyte === check.interferent || lowest === null) return [];
    const coefficient = interference.find(
      (k) => k.analyte === analyte && k.lineNm === lineNm && k.interferent === check.interferent,
    );
    const rows = (study.index.bySolution.get(`${check.solution}|${analyte}|${lineNm}`) ?? []).map((m) => ({
      key: `${m.run}|${m.position}`,
      run: m.run,
      value:
        apparentContent(study, m.run, analyte, lineNm, m.position, m.meanRatio) -
        (coefficient?.apparentPerUnit ?? 0) * check.massFractionMgPerKg,
    }));
    const own = resultsOf(study, analyte, 'sample', lowest.sample);
    const interferent = resultsOf(study, check.interferent, 'sample', lowest.sample);
    if (rows.length === 0 || !hasContent(own) || !hasContent(interferent)) return [];
    // Contents in the digestion's own solution, in which the traces are read.
    const further =
      study.index.scopes.get(check.interferent)!.measuredIn === 'dilution' ? furtherDilution(study) : 1;
    const inSample =
      (mean(interferent.map((r) => r.value)) / solidPerSolutionUnit(study, check.interferent)) * further;
    return [
      interferenceCheck(rows, {
        analyte,
        level: lowest.level,
        unit,
        criterion: criterionFor(plan, 'interference check', analyte, lowest.level),
        interferent: check.interferent,
        inCheckMgPerKg: check.massFractionMgPerKg,
        inSampleMgPerKg: inSample,
        solidPerUnit: solidPerSolutionUnit(study, analyte),
        reference: mean(own.map((r) => r.value)),
        corrected: coefficient !== undefined,
      }),
    ];
  });
}

/** Content by the run's calibration, drift between check solutions taken off. */
export function apparentContent(
  study: EvaluatedStudy,
  run: string,
  analyte: string,
  lineNm: number,
  position: number,
  ratio: number,
): number {
  const calibration = study.index.calibrations.get(calibrationKey(run, analyte, lineNm))!;
  const drift = driftAt(study, run, analyte, lineNm, position);
  // A check solution holds the internal standard that the standards hold.
  return contentOfRatio(calibration, signalOfStandard(study.index.records.plan, ratio, 1) / drift);
}

/** Drift factor of a line at a place of a run; 1 where no check solution was read. */
export function driftAt(
  study: EvaluatedStudy,
  run: string,
  analyte: string,
  lineNm: number,
  position: number,
): number {
  const checks = study.index.checks.get(calibrationKey(run, analyte, lineNm)) ?? [];
  if (checks.length === 0) return 1;
  const positions = checks.map((c) => c.position);
  const ratios = checks.map((c) => c.meanRatio);
  return driftOfRun({ run, analyte, lineNm, positions, ratios }, 0, position).factor;
}

/** Native amount of the internal-standard element in the digestions that the plan names. */
export function nativeStudy(study: EvaluatedStudy): Finding[] {
  const { plan } = study.index.records;
  const { element, lineNm, doseMgPerKg } = plan.internalStandard;
  return plan.nativeCheckDigestions.flatMap((digestion) => {
    if (!usable(study.index, digestion, element)) return [];
    const measured = (study.index.bySolution.get(`${digestion}|${element}|${lineNm}`) ?? []).filter(
      (m) => m.internalStandard === null,
    );
    const shares = measured.flatMap((m) => {
      const calibration = study.index.calibrations.get(calibrationKey(m.run, element, lineNm));
      return calibration === undefined
        ? []
        : m.ratios.map((r) => contentOfRatio(calibration, r) / doseMgPerKg);
    });
    if (shares.length === 0) return [];
    const sample = study.index.digestions.get(digestion)!.sample;
    const criterion = criterionFor(plan, 'native internal standard', element, sample);
    return [nativeInternalStandard(shares, { analyte: '*', level: sample, criterion, digestion })];
  });
}
