import { planSolutions } from './checks/plan-solutions.js';
import type { StudyPlan } from './study.js';
import type { StudyRecords } from './study-records.js';

/** Tables that show what was read of which digestion and standard. */
export type RecordsOfReadings = Pick<
  StudyRecords,
  'digestions' | 'dilutions' | 'calibration' | 'readings' | 'exclusions'
>;

/** A row that enters no result of some analytes though no exclusion says so. */
export interface LeftUnused {
  readonly table: 'digestions' | 'readings';
  /** Place of the row among the records of its table; of readings the first of them. */
  readonly index: number;
  /** The digestion, or the standard solution. */
  readonly name: string;
  /** What is missing, as a clause: "no reading of Al, Fe". */
  readonly missing: string;
}

/**
 * Digestions of which analytes of the plan were never read, and readings of standards for analytes whose content in them no row
 * of the calibration states. What an exclusion names is not among them: it has its cause there.
 */
export function leftUnused(plan: StudyPlan, records: RecordsOfReadings): LeftUnused[] {
  return [...unreadDigestions(plan, records), ...standardsWithoutContent(plan, records)];
}

/** Analytes read of each digestion, in its own solution or in a dilution of it. */
export function analytesRead({
  dilutions,
  readings,
}: Pick<RecordsOfReadings, 'dilutions' | 'readings'>): Map<string, Set<string>> {
  const digestionOf = new Map(dilutions.map((each) => [each.dilution, each.digestion]));
  const read = new Map<string, Set<string>>();
  for (const { solution, analyte } of readings) {
    const digestion = digestionOf.get(solution) ?? solution;
    const known = read.get(digestion);
    if (known === undefined) read.set(digestion, new Set([analyte]));
    else known.add(analyte);
  }
  return read;
}

function unreadDigestions(plan: StudyPlan, records: RecordsOfReadings): LeftUnused[] {
  const read = analytesRead(records);
  const excluded = excludedKeys(records, 'digestions');
  return records.digestions.flatMap(({ digestion }, index) => {
    if (excluded.has(digestion)) return [];
    const unread = plan.analytes
      .map(({ analyte }) => analyte)
      .filter((each) => !read.get(digestion)?.has(each) && !excluded.has(`${digestion}|${each}`));
    if (unread.length === 0) return [];
    return [{ table: 'digestions', index, name: digestion, missing: `no reading of ${unread.join(', ')}` }];
  });
}

function standardsWithoutContent(plan: StudyPlan, records: RecordsOfReadings): LeftUnused[] {
  const standards = new Set(records.calibration.map(({ run, solution }) => `${run}|${solution}`));
  const contents = new Set([
    ...records.calibration.map(({ run, solution, analyte }) => `${run}|${solution}|${analyte}`),
    ...excludedKeys(records, 'calibration'),
  ]);
  // A solution that serves a second purpose is read for that.
  const others = new Set(planSolutions(plan));
  const found = new Map<string, { index: number; solution: string; analyte: string; runs: Set<string> }>();
  records.readings.forEach(({ run, solution, analyte }, index) => {
    const place = `${run}|${solution}`;
    if (!standards.has(place) || others.has(solution) || contents.has(`${place}|${analyte}`)) return;
    const key = `${solution}|${analyte}`;
    const known = found.get(key);
    if (known === undefined) found.set(key, { index, solution, analyte, runs: new Set([run]) });
    else known.runs.add(run);
  });
  return [...found.values()].map(({ index, solution, analyte, runs }) => ({
    table: 'readings',
    index,
    name: solution,
    missing: `no content of ${analyte} in the table calibration for run ${[...runs].join(', ')}`,
  }));
}

function excludedKeys({ exclusions }: RecordsOfReadings, table: string): Set<string> {
  return new Set(exclusions.flatMap((each) => (each.table === table ? [each.rowKey] : [])));
}
