import { rowKey } from '../table-form/table.js';
import { calibrationTable } from '../tables/calibration.js';
import type { ReadingRecord } from '../tables/readings.js';
import { excludedReadings, readingKey } from './excluded-readings.js';
import type { StudyView } from './study-view.js';

/** Two make a line that fits whatever was read. */
const fewestStandards = 3;

/** Standards of one analyte on one line in one run. */
interface Series {
  readonly first: ReadingRecord;
  readonly places: Set<number>;
  readonly contents: Set<number>;
  /** Whether a digestion was read on the line in the run, so that a calibration is needed. */
  isNeeded: boolean;
}

/** Every analyte and line that a run calibrates, or reads in a digestion, has at least three standards of two contents. */
export function checkEnoughStandards(view: StudyView): void {
  const { plan } = view.study;
  const canTell = (['calibration', 'readings', 'digestions'] as const).every(
    (name) => view.isComplete(name) && view.table(name)!.broken.length === 0,
  );
  if (plan === null || !canTell || view.records('readings').length === 0) return;
  const tooFew = new Map<ReadingRecord, number>();
  for (const { first, places, contents, isNeeded } of seriesOf(view)) {
    if (places.size === 0 && !isNeeded) continue;
    if (places.size < fewestStandards || contents.size < 2) tooFew.set(first, places.size);
  }
  if (tooFew.size === 0) return;
  view.each('readings', (record) => {
    const count = tooFew.get(record);
    if (count === undefined) return null;
    const { run, analyte, lineNm } = record;
    return {
      code: 'standards',
      field: 'run',
      found: `"${run}" with ${count} standard(s) of ${analyte} at ${lineNm} nm`,
      expected: `at least ${fewestStandards} standards of it, of two contents or more, in the tables calibration and readings`,
    };
  });
}

function seriesOf(view: StudyView): Iterable<Series> {
  const { internalStandard, calibration } = view.study.plan!;
  const contents = contentsOf(view, calibration.basis);
  const digestions = new Set<string>([
    ...view.records('digestions').map((each) => each.digestion),
    ...view.records('dilutions').map((each) => each.dilution),
  ]);
  const excluded = excludedReadings(view);
  const series = new Map<string, Series>();
  for (const record of view.records('readings')) {
    if (excluded.size > 0 && excluded.has(readingKey(record))) continue;
    const { run, solution, analyte, lineNm, position } = record;
    const key = `${run}|${analyte}|${lineNm}`;
    const known = series.get(key);
    const own = known ?? { first: record, places: new Set(), contents: new Set(), isNeeded: false };
    if (known === undefined) series.set(key, own);
    const content = contents.get(`${run}|${solution}|${analyte}`);
    if (content !== undefined) {
      own.places.add(position);
      own.contents.add(content);
    } else if (analyte !== internalStandard.element && digestions.has(solution)) {
      own.isNeeded = true;
    }
  }
  return series.values();
}

function contentsOf(view: StudyView, basis: 'mg/kg' | 'mg/L'): Map<string, number> {
  const excluded = new Set(
    view.records('exclusions').flatMap((each) => (each.table === 'calibration' ? [each.rowKey] : [])),
  );
  const contents = new Map<string, number>();
  for (const row of view.records('calibration')) {
    const key = rowKey(calibrationTable, row);
    const content = basis === 'mg/kg' ? row.massFractionMgPerKg : row.concentrationMgPerL;
    if (content !== null && !excluded.has(key)) contents.set(key, content);
  }
  return contents;
}
