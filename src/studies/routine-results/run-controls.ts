import { type Blank, type BlankAmount, type BlankScaling, blankMass } from '../../chain/blank.js';
import { contentOfRatio } from '../../chain/calibration.js';
import { mean } from '../../statistics/descriptive/mean.js';
import type { EvaluatedStudy } from '../evaluate-study.js';
import { checkSolutionStudy, internalStandardStudy } from '../matrix/acceptance-study.js';
import { criterionFor, resultsOf, solidPerMg } from '../matrix/matrix-context.js';
import type { MatrixValidation } from '../matrix/validate-matrix.js';
import type { ScatterOfResults } from '../result-covariance/scatter-of-results.js';
import { calibrationKey } from '../run-calibrations.js';
import type { RunControl } from './routine-result.js';

/** Factor of the standard deviation of one result that two results on one day may differ by: 1.96·√2, as it is quoted. */
export const duplicateFactor = 2.8;

/**
 * Controls that decide whether a run is accepted: first and last check solution, internal standard, blanks against the limit of
 * quantification, reference material against the mean and scatter of the validation, duplicates.
 *
 * @see ISO/IEC 17025:2017, 7.7.1; ISO 5725-6:1994, 4 (repeatability limit 2.8·s_r; clause from memory)
 */
export function runControls(
  run: EvaluatedStudy,
  validation: MatrixValidation,
  scatter: ScatterOfResults,
): RunControl[] {
  return [
    ...checkControls(run),
    ...internalStandardControl(run),
    ...blankControls(run, validation),
    ...materialControls(run, validation, scatter),
    ...duplicateControls(run, scatter),
    fluxLotControl(run, validation),
  ];
}

function checkControls(run: EvaluatedStudy): RunControl[] {
  return checkSolutionStudy(run).flatMap(({ finding, deviations }) => {
    const { criterion, analyte, unit } = finding;
    if (criterion === null || deviations.length === 0) return [];
    const sorted = [...deviations].sort((a, b) => a.position - b.position);
    const low = criterion.lower ?? -criterion.limit;
    return [
      ['first', sorted[0]!],
      ['last', sorted.at(-1)!],
    ].map(([which, deviation]): RunControl => {
      const found = (deviation as { value: number }).value;
      return {
        control: `${which} check solution`,
        about: analyte,
        found,
        low,
        high: criterion.limit,
        unit,
        passed: found >= low && found <= criterion.limit,
        rule: 'deviation from its nominal content, drift not taken off',
      };
    });
  });
}

function internalStandardControl(run: EvaluatedStudy): RunControl[] {
  const study = internalStandardStudy(run);
  const criterion = study?.finding.criterion ?? null;
  if (study === null || criterion === null || study.finding.estimate === null) return [];
  return [
    {
      control: 'internal standard',
      about: run.index.records.plan.internalStandard.element,
      found: study.finding.estimate,
      low: criterion.lower ?? -criterion.limit,
      high: criterion.limit,
      unit: study.finding.unit,
      passed: study.failing.length === 0,
      rule: 'recovery of the solution farthest off',
    },
  ];
}

/** Highest procedure blank as mass fraction in the solid against the limit of quantification. */
function blankControls(run: EvaluatedStudy, validation: MatrixValidation): RunControl[] {
  return run.index.records.plan.analytes.flatMap(({ analyte, unit }) => {
    const blank = run.blanks.get(analyte)?.blank;
    const limit = limitOfQuantification(validation, analyte);
    const amounts = run.blanks.get(analyte)?.amounts ?? [];
    if (blank === null || blank === undefined || limit === null) return [];
    const typical = validation.study.blanks.get(analyte)?.blank ?? null;
    const { fluxG } = run.index.records.plan.nominal;
    const excess = amounts.map((a) => excessMg(a, blank.scaling, typical, fluxG));
    const found = Math.max(...excess) * solidPerMg(run, analyte);
    return [
      {
        control: 'procedure blank',
        about: analyte,
        found,
        low: null,
        high: limit,
        unit,
        passed: found <= limit,
        rule: 'highest blank above the mean blank of the validation, as mass fraction in the solid, against the limit of quantification',
      },
    ];
  });
}

/** Amount of one blank above the blank of the validation, mg; by mass of flux it is that at the nominal mass. */
function excessMg(
  { amountMg, fluxG }: BlankAmount,
  rule: BlankScaling,
  typical: Blank | null,
  nominalFluxG: number,
) {
  if (rule !== 'per flux mass') return amountMg - (typical === null ? 0 : blankMass(typical, fluxG));
  const perFlux =
    typical?.scaling === rule ? typical.mean : typical === null ? 0 : blankMass(typical, fluxG) / fluxG;
  return (amountMg / fluxG - perFlux) * nominalFluxG;
}

/** Limit of quantification found by the validation; null where none was shown. */
export function limitOfQuantification(validation: MatrixValidation, analyte: string): number | null {
  return validation.limits.find((l) => l.analyte === analyte)?.quantification?.value ?? null;
}

/** Reference material against its mean in the validation, ±3 of the standard deviation of its mean over days. */
function materialControls(
  run: EvaluatedStudy,
  validation: MatrixValidation,
  scatter: ScatterOfResults,
): RunControl[] {
  const materials = [
    ...new Set(run.index.records.digestions.filter((d) => d.kind === 'reference').map((d) => d.sample)),
  ];
  return materials.flatMap((material) =>
    run.index.records.plan.analytes.flatMap(({ analyte, unit }) => {
      const found = resultsOf(run, analyte, 'reference', material).map((r) => r.value);
      const before = resultsOf(validation.study, analyte, 'reference', material).map((r) => r.value);
      const at = scatter.analytes.indexOf(analyte);
      if (found.length === 0 || before.length < 5 || at < 0) return [];
      const centre = mean(before);
      const oneResult = scatter.digestions[at]![at]! + Math.max(0, scatter.days[at]![at]!);
      const width = 3 * centre * Math.sqrt(oneResult * (1 / found.length + 1 / before.length));
      const value = mean(found);
      return [
        {
          control: `reference material ${material}`,
          about: analyte,
          found: value,
          low: centre - width,
          high: centre + width,
          unit,
          passed: Math.abs(value - centre) <= width,
          rule: `mean of ${found.length} digestion(s) within ±3 standard deviations of the mean of ${before.length} in the validation`,
        },
      ];
    }),
  );
}

/** Samples digested twice: their difference against 2.8 standard deviations of one result, the day's part left out on one day. */
function duplicateControls(run: EvaluatedStudy, scatter: ScatterOfResults): RunControl[] {
  return duplicateSamples(run).flatMap((sample) =>
    run.index.records.plan.analytes.flatMap(({ analyte }) => {
      const values = resultsOf(run, analyte, 'sample', sample).map((r) => r.value);
      const at = scatter.analytes.indexOf(analyte);
      if (values.length < 2 || at < 0) return [];
      const high = 100 * duplicateFactor * Math.sqrt(scatter.digestions[at]![at]!);
      const found = (100 * (Math.max(...values) - Math.min(...values))) / Math.abs(mean(values));
      return [
        {
          control: `duplicates of ${sample}`,
          about: analyte,
          found,
          low: null,
          high,
          unit: '%',
          passed: found <= high,
          rule: `range of two digestions, at most ${duplicateFactor} · s_r of the validation`,
        },
      ];
    }),
  );
}

function duplicateSamples(run: EvaluatedStudy): string[] {
  const counts = new Map<string, number>();
  for (const { kind, sample } of run.index.records.digestions) {
    if (kind === 'sample') counts.set(sample, (counts.get(sample) ?? 0) + 1);
  }
  return [...counts].flatMap(([sample, n]) => (n === 2 ? [sample] : []));
}

function fluxLotControl(run: EvaluatedStudy, validation: MatrixValidation): RunControl {
  const [now, then] = [run, validation.study].map((s) => s.index.records.plan.fluxLot);
  return {
    control: 'flux lot',
    about: now!,
    found: now === then ? 0 : 1,
    low: null,
    high: 0,
    unit: 'changes',
    passed: now === then,
    rule: `the lot of the validation is ${then}; a new lot needs its own blanks and limits first`,
  };
}

/** Largest deviation of the two check solutions that a solution of the run lies between; null where there is none. */
export function driftAround(run: EvaluatedStudy, analyte: string, position: number): number | null {
  const { checks, calibrations, scopes, records } = run.index;
  const { lineNm } = scopes.get(analyte)!;
  const nominal = records.standards.find(
    (s) => s.name === records.plan.driftCheckSolution && s.analyte === analyte,
  );
  for (const name of new Set(run.index.measured.map((m) => m.run))) {
    const own = checks.get(calibrationKey(name, analyte, lineNm)) ?? [];
    const calibration = calibrations.get(calibrationKey(name, analyte, lineNm));
    if (nominal === undefined || calibration === undefined || own.length === 0) continue;
    const before = own.filter((c) => c.position <= position).at(-1);
    const after = own.find((c) => c.position >= position);
    const deviations = [before, after].flatMap((c) =>
      c === undefined ? [] : [100 * (contentOfRatio(calibration, c.meanRatio) / nominal.value - 1)],
    );
    return deviations.reduce((worst, d) => (Math.abs(d) > Math.abs(worst) ? d : worst), 0);
  }
  return null;
}

/** Allowed deviation of a check solution, %; null without criterion. */
export function driftLimit(run: EvaluatedStudy, analyte: string): number | null {
  const { plan } = run.index.records;
  return criterionFor(plan, 'check solution', analyte, plan.driftCheckSolution)?.limit ?? null;
}
