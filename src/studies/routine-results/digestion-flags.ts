import type { StudyRecords } from '../../records/study-records.js';
import type { DigestionRecord } from '../../records/tables/digestions.js';
import { noStandards } from '../matrix/budget-study.js';
import type { ResultFlag } from './routine-result.js';

/**
 * Flags of one analyte of one sample from the digestions that gave no value of it. The result is held where fewer are left than
 * the plan of the run asks for; one without a value beside enough others is remarked.
 *
 * @param rows digestions of the sample
 * @param found names of those that gave a value, and of those that were read
 */
export function digestionFlags(
  { plan, exclusions }: StudyRecords,
  rows: readonly DigestionRecord[],
  found: { readonly analyte: string; readonly valued: readonly string[]; readonly read: readonly string[] },
): ResultFlag[] {
  const { analyte, valued, read } = found;
  const excludedBecause = (digestion: string) =>
    exclusions.find(
      (e) => e.table === 'digestions' && [digestion, `${digestion}|${analyte}`].includes(e.rowKey),
    )?.technicalCause;
  const without = rows.filter((row) => !valued.includes(row.digestion));
  const byVolume = plan.calibration.basis === 'mg/L';
  const flags = without.map(({ digestion, vesselEmptyG, densityGPerML, remark }): ResultFlag => {
    const reason = excludedBecause(digestion);
    if (reason !== undefined)
      return { kind: 'digestion excluded', text: `${digestion}: excluded (${reason})`, holds: false };
    const said = remark === '' ? '' : ` (${remark})`;
    if (vesselEmptyG === null) {
      const text = `${digestion}: no mass of the empty vessel${said}, so the solution has no mass`;
      return { kind: 'missing tare', text, holds: true };
    }
    if (byVolume && densityGPerML === null && read.includes(digestion)) {
      const text = `${digestion}: no density of the solution${said}, so contents in mg/L cannot be brought to mass`;
      return { kind: 'missing density', text, holds: true };
    }
    const kind = valued.length === 0 ? 'not measured' : 'digestion without a reading';
    return { kind, text: `${digestion}: no reading of ${analyte}`, holds: valued.length === 0 };
  });
  const { digestions } = plan.resultRule;
  if (valued.length === 0 || valued.length >= digestions) return flags;
  const text = `fewer digestions than the rule of the plan: ${valued.length} of ${digestions} gave a value`;
  return [...flags, { kind: 'fewer digestions than planned', text, holds: true }];
}

/**
 * What is to be said of the digestions behind a control: why some gave no value of an analyte, and what those that did were like.
 *
 * @param digestions blanks, or digestions of one material
 * @param valued names of those that gave a value
 */
export function remarksOnDigestions(
  records: StudyRecords,
  digestions: readonly DigestionRecord[],
  analyte: string,
  valued: readonly string[],
): string[] {
  const missing = digestions.filter((d) => !valued.includes(d.digestion));
  const found = { analyte, valued, read: digestions.map((d) => d.digestion) };
  const without = digestionFlags(records, missing, found)
    .filter(({ kind }) => kind !== 'fewer digestions than planned')
    .map(({ text }) => text);
  const looks = digestions
    .filter((d) => valued.includes(d.digestion))
    .flatMap((row) => lookFlags(row).map(({ text }) => text));
  return [...without, ...looks];
}

/** A melt or a solution that was not clear: part of the portion, or of what was to be dissolved, may be missing. */
export function lookFlags({ digestion, melt, solution, remark }: DigestionRecord): ResultFlag[] {
  const said = remark === '' ? '' : ` (${remark})`;
  const flags: ResultFlag[] = [];
  if (melt === 'not clear') {
    const text = `${digestion}: the melt was not clear${said}`;
    flags.push({ kind: 'melt not clear', text, holds: true });
  }
  if (solution === 'residue') {
    const text = `${digestion}: the solution held a residue${said}`;
    flags.push({ kind: 'residue in the solution', text, holds: true });
  }
  return flags;
}

/** Without certificates the stocks count as exact, and u leaves out their part. */
export function standardsFlags({ standards }: StudyRecords): ResultFlag[] {
  if (standards.length > 0) return [];
  return [{ kind: 'standards not stated', text: `${noStandards} u leaves it out.`, holds: true }];
}
