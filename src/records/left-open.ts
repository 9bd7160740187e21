import type { DecodedStudy } from './decoded-study.js';
import { leftUnused } from './left-unused.js';
import { lossInFusionOpen } from './loss-in-fusion.js';
import type { StudyPlan } from './study.js';
import type { StudyRecords } from './study-records.js';
import type { TableName } from './study-tables.js';

/** Something that is no problem of the records and yet leaves a question open. */
export interface LeftOpen {
  readonly file: string;
  /** As a spreadsheet counts: the heading is row 1; null where it is about the whole file. */
  readonly row: number | null;
  readonly found: string;
  /** What follows from it, such as "not studied: drift". */
  readonly consequence: string;
}

const needed: readonly TableName[] = ['digestions', 'calibration', 'readings'];
const looked: readonly TableName[] = [...needed, 'dilutions', 'standards', 'exclusions'];

/**
 * What sound records leave open: rows that enter no result, drift, loss in fusion and check solution that cannot be judged. Nothing is said while
 * one of the tables behind it is missing or broken, as a lost row may be the one that answers.
 */
export function leftOpen({ plan, tables }: DecodedStudy): LeftOpen[] {
  const isSound = (name: TableName) => {
    const table = tables[name];
    return table === undefined || (table.isWhole && table.broken.length === 0);
  };
  if (plan === null || !looked.every(isSound)) return [];
  if (needed.some((name) => (tables[name]?.records.length ?? 0) === 0)) return [];
  const records = {
    digestions: tables.digestions?.records ?? [],
    dilutions: tables.dilutions?.records ?? [],
    calibration: tables.calibration?.records ?? [],
    readings: tables.readings?.records ?? [],
    exclusions: tables.exclusions?.records ?? [],
  };
  const unused = leftUnused(plan, records).map(({ table, index, name, missing }) => ({
    file: tables[table]!.file,
    row: tables[table]!.rows[index]!,
    found: `${name}: ${missing}`,
    consequence: 'in no result of it, and named in the report among the rows left out',
  }));
  const readingsFile = tables.readings!.file;
  return [
    ...unused,
    ...driftNotStudied(plan, records.readings, readingsFile),
    ...lossInFusion(plan, records.digestions, tables.digestions!.file),
    ...checkSolutionWithoutContent(plan, tables.standards?.records ?? [], tables.standards?.file),
  ];
}

/** Without a check solution the drift factor is exactly 1 and its uncertainty 0: nobody has looked. */
function driftNotStudied(
  { driftCheckSolution, analytes }: StudyPlan,
  readings: StudyRecords['readings'],
  file: string,
): LeftOpen[] {
  const planned = new Set(analytes.map(({ analyte }) => analyte));
  const places = new Set<string>();
  const followed = new Set<string>();
  for (const { run, analyte, solution } of readings) {
    if (!planned.has(analyte)) continue;
    places.add(`${analyte} in run ${run}`);
    if (solution === driftCheckSolution) followed.add(`${analyte} in run ${run}`);
  }
  const open = [...places].filter((place) => !followed.has(place));
  if (open.length === 0) return [];
  const where = open.length === places.size ? '' : ` for ${open.join(', ')}`;
  const found = `no reading of the check solution "${driftCheckSolution}"${where}`;
  return [
    { file, row: null, found, consequence: 'not studied: drift, which counts as none with no uncertainty' },
  ];
}

/** Without either the part retained is exactly 1: nobody has looked. */
function lossInFusion(plan: StudyPlan, digestions: StudyRecords['digestions'], file: string): LeftOpen[] {
  const found = lossInFusionOpen(plan, digestions);
  if (found === null) return [];
  const consequence = 'not studied: loss in fusion, which counts as none with no uncertainty';
  return [{ file, row: null, found, consequence }];
}

function checkSolutionWithoutContent(
  { driftCheckSolution, analytes }: StudyPlan,
  standards: StudyRecords['standards'],
  file: string = 'standards.csv',
): LeftOpen[] {
  const certified = standards.filter((each) => each.name === driftCheckSolution).map((each) => each.analyte);
  const open = analytes.map(({ analyte }) => analyte).filter((each) => !certified.includes(each));
  if (open.length === 0) return [];
  const found = `no row of the check solution "${driftCheckSolution}" for ${open.join(', ')}`;
  return [{ file, row: null, found, consequence: 'not studied: whether it is found at its content' }];
}
