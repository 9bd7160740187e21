import {
  type Blank,
  type BlankAmount,
  type BlankScaling,
  blankMass,
  fewestBlanks,
} from '../../chain/blank.js';
import type { AnalyteScope } from '../../records/study.js';
import type { StudyRecords } from '../../records/study-records.js';
import type { DigestionRecord } from '../../records/tables/digestions.js';
import type { EvaluatedStudy } from '../evaluate-study.js';
import { solidPerMg } from '../matrix/matrix-context.js';
import type { MatrixValidation } from '../matrix/validate-matrix.js';
import { remarksOnDigestions } from './digestion-flags.js';
import { notMade, type RunControl, reachOf } from './routine-result.js';

/**
 * Highest procedure blank as mass fraction in the solid against the limit of quantification. Where there is no blank, or the
 * validation found no limit, the control is not made. Blanks that have no amount, or were not clear, are named.
 *
 * @param records of the run, with the digestions that have no result
 */
export function blankControls(
  run: EvaluatedStudy,
  validation: MatrixValidation,
  records: StudyRecords,
): RunControl[] {
  const { procedure } = records.plan.blanks;
  const rows = records.digestions.filter((d) => d.kind === 'blank' && d.sample === procedure);
  return run.index.records.plan.analytes.flatMap(({ analyte, unit }) => {
    const blank = run.blanks.get(analyte)?.blank;
    const limit = limitOfQuantification(validation, analyte);
    const amounts = run.blanks.get(analyte)?.amounts ?? [];
    const valued = amounts.map((a) => a.digestion);
    const remarks = remarksOnDigestions(records, rows, analyte, valued);
    if (blank === null || blank === undefined)
      return [noBlank(run, { analyte, unit }, amounts.length, remarks)];
    if (limit === null) return [noLimit(validation, analyte, unit)];
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
        rule: [
          'highest blank above the mean blank of the validation, as mass fraction in the solid, against the limit of quantification',
          ...remarks,
          ...daysWithout(records, valued).map(
            (day) => `no usable blank of ${day}, a day on which samples were fused`,
          ),
        ].join('; '),
        holds: { kind: 'blank above the limit of quantification', reach: reachOf({ analyte }) },
      },
    ];
  });
}

/** Days on which samples were fused, but none of these blanks. */
function daysWithout({ digestions }: StudyRecords, blanks: readonly string[]): string[] {
  const daysOf = (isMeant: (row: DigestionRecord) => boolean) =>
    new Set(digestions.filter(isMeant).map((d) => d.day));
  const known = daysOf((d) => blanks.includes(d.digestion));
  return [...daysOf((d) => d.kind === 'sample')].filter((day) => !known.has(day));
}

/** Without a blank of its own nothing is subtracted from what the run found. */
function noBlank(
  run: EvaluatedStudy,
  { analyte: about, unit }: Pick<AnalyteScope, 'analyte' | 'unit'>,
  usable: number,
  remarks: readonly string[],
): RunControl {
  const { blank, fluxLot } = run.index.records.plan;
  const found =
    usable === 0
      ? `no blank of the flux lot ${fluxLot} in the run`
      : `${usable} usable blank(s) of the flux lot ${fluxLot} in the run, expected at least ${fewestBlanks(blank.scaling)}`;
  const holds = { kind: 'no blank in the run' as const, reach: reachOf({ analyte: about }) };
  return notMade(
    { control: 'procedure blank', about, unit, holds },
    [`${found}, so that none is subtracted`, ...remarks].join('; '),
  );
}

/** Without a limit a blank of any size would pass. */
function noLimit(validation: MatrixValidation, about: string, unit: string): RunControl {
  const own = validation.limits.find((l) => l.analyte === about);
  const reason = own?.findings.find((f) => f.characteristic === 'limit of quantification')?.reason;
  const why = reason === undefined ? 'it did not study it' : reason.replace(/^Not studied: |\.$/g, '');
  const holds = { kind: 'blank not judged' as const, reach: reachOf({ analyte: about }) };
  return notMade(
    { control: 'procedure blank', about, unit, holds },
    `the validation found no limit of quantification of ${about} (${why})`,
  );
}

/** Amount of one blank above the blank of the validation, mg; by mass of flux it is that at the nominal mass. */
function excessMg(
  { amountMg, fluxG }: BlankAmount,
  rule: BlankScaling,
  typical: Blank | null,
  nominalFluxG: number,
) {
  if (rule !== 'per flux mass') return amountMg - (typical === null ? 0 : blankMass(typical, fluxG, null));
  const perFlux =
    typical?.scaling === rule ? typical.mean : typical === null ? 0 : blankMass(typical, fluxG, null) / fluxG;
  return (amountMg / fluxG - perFlux) * nominalFluxG;
}

/** Limit of quantification found by the validation; null where none was shown. */
export function limitOfQuantification(validation: MatrixValidation, analyte: string): number | null {
  return validation.limits.find((l) => l.analyte === analyte)?.quantification?.value ?? null;
}

/** Lowest mass fraction that a run reports as a number: that of the plan, or the limit of quantification where it is higher. */
export function lowestReportedOf(validation: MatrixValidation, scope: AnalyteScope): number {
  return Math.max(scope.lowestReported, limitOfQuantification(validation, scope.analyte) ?? 0);
}
