import { beforeAll, describe, expect, it } from 'vitest';
import { contentMeasured } from '../../../src/chain/emission.js';
import { readRowGroups } from '../../../src/records/csv/read-row-groups.js';
import { IssueList } from '../../../src/records/issue-list.js';
import { readStudy } from '../../../src/records/read-study.js';
import type { StudyRecords } from '../../../src/records/study-records.js';
import { readingTable } from '../../../src/records/tables/readings.js';
import { evaluateStudy } from '../../../src/studies/evaluate-study.js';
import type { ResultRemark } from '../../../src/studies/result-stream/run-remarks.js';
import { type RunResults, streamResults } from '../../../src/studies/result-stream/stream-results.js';

const folder = 'data/zircon-routine';

let records: StudyRecords;
beforeAll(async () => {
  records = await readStudy(folder);
});

/** The one run of the routine study; readings that a test leaves out are excluded. */
async function runOf(
  study: StudyRecords,
  without: (row: StudyRecords['readings'][number]) => boolean = () => false,
): Promise<RunResults> {
  const excluded = study.readings.filter(without).map((row) => ({
    table: 'readings',
    rowKey: `${row.run}|${row.position}|${row.analyte}|${row.lineNm}|${row.repeat}`,
    ...{ who: 'S. Varrendale', when: '2026-04-15', technicalCause: 'invented' },
  }));
  const path = `${folder}/readings.csv`;
  const issues = new IssueList();
  const reading = { table: readingTable, path, file: 'readings.csv', decimalMark: null, issues };
  const stream = streamResults(
    { ...study, exclusions: [...study.exclusions, ...excluded] },
    readRowGroups(reading, 'run'),
  );
  const run: RunResults = (await stream.next()).value!;
  await stream.return();
  return run;
}

/** Results with a remark as `digestion analyte`. */
const bearing = (run: RunResults, remark: ResultRemark) =>
  [...run.results()]
    .filter(({ remarks }) => remarks.includes(remark))
    .map(({ digestion, analyte }) => `${digestion.digestion} ${analyte}`);

const isOf = (run: RunResults, analytes: readonly string[]) =>
  [...run.results()].flatMap(({ digestion, analyte }) =>
    analytes.includes(analyte) ? [`${digestion.digestion} ${analyte}`] : [],
  );

describe('remarks on the results of a run', () => {
  it('name what the whole way finds above the highest standard, of the analyte and of what disturbs it', async () => {
    // Without its two richest standards half of the results of an analyte lie beyond.
    const poorer: StudyRecords = {
      ...records,
      calibration: records.calibration.filter((row) => !/^CAL-[AB][56]$/.test(row.solution)),
      exclusions: records.calibration
        .filter((row) => /^CAL-[AB][56]$/.test(row.solution))
        .map((row) => ({
          ...{ table: 'calibration', rowKey: `${row.run}|${row.solution}|${row.analyte}` },
          ...{ who: 'S. Varrendale', when: '2026-04-15', technicalCause: 'invented' },
        })),
    };
    const excluded = { ...poorer, calibration: records.calibration };
    const complete = records.digestions.filter((row) => row.vesselEmptyG !== null);
    const whole = evaluateStudy({ ...excluded, digestions: complete });
    const own: string[] = [];
    const disturbing: string[] = [];
    for (const { digestion, analyte, value, observation } of whole.results) {
      if (value === null) continue;
      const { signals, solution, dilutions, basis } = observation;
      const origin = { solution, dilutions, evaporation: basis.evaporation };
      const beyond = signals.map(
        (signal) =>
          contentMeasured(signal, origin) > Math.max(...signal.calibration.points.map((p) => p.content)),
      );
      if (beyond[0]!) own.push(`${digestion} ${analyte}`);
      if (beyond.slice(1).some((each) => each)) disturbing.push(`${digestion} ${analyte}`);
    }
    expect(own.length).toBeGreaterThan(20);
    expect(disturbing.length).toBeGreaterThan(5);
    const run = await runOf(excluded);
    expect(bearing(run, 'above the highest standard').sort()).toEqual(own.sort());
    expect(bearing(run, 'an interferent above the highest standard').sort()).toEqual(disturbing.sort());
  });

  it('tell of blanks and check solutions that were not read, for the analyte alone', async () => {
    const blanks = records.digestions.flatMap((row) => (row.kind === 'blank' ? [row.digestion] : []));
    const [first] = blanks;
    const run = await runOf(
      records,
      ({ solution, analyte, position }) =>
        (analyte === 'Fe' && blanks.includes(solution) && solution !== first) ||
        (analyte === 'Ti' && solution === 'CHK' && position > 20),
    );
    expect(bearing(run, 'no blank subtracted')).toEqual(isOf(run, ['Fe']));
    expect(bearing(run, 'drift not corrected (fewer than two check solutions)')).toEqual(isOf(run, ['Ti']));
    const kept = await runOf(records);
    expect(bearing(kept, 'no blank subtracted')).toEqual([]);
    expect(bearing(kept, 'drift not corrected (fewer than two check solutions)')).toEqual([]);
  });

  it('tell of melts, residues, densities, small contents and single readings', async () => {
    const run = await runOf(records, ({ repeat }) => repeat > 1);
    const of = (remark: ResultRemark) => new Set(bearing(run, remark).map((each) => each.split(' ')[0]));
    const read = new Set([...run.results()].map(({ digestion }) => digestion.digestion));
    const rows = records.digestions.filter((row) => read.has(row.digestion));
    const named = (found: typeof rows) => new Set(found.map((row) => row.digestion));
    expect(of('melt not clear')).toEqual(named(rows.filter((row) => row.melt !== 'clear')));
    expect(of('residue in the solution')).toEqual(named(rows.filter((row) => row.solution !== 'clear')));
    const bare = rows.filter((row) => row.densityGPerML === null);
    expect(of('no density of the solution (taken as 1 g/mL)')).toEqual(named(bare));
    expect(bare.length).toBeGreaterThan(0);
    expect(of('scatter of readings not in the uncertainty')).toEqual(read);
    const lowest = new Map(records.plan.analytes.map((scope) => [scope.analyte, scope.lowestReported]));
    const small = [...run.results()].filter(({ analyte, value }) => value < lowest.get(analyte)!);
    expect(small.length).toBeGreaterThan(0);
    expect(bearing(run, 'below the lowest content reported')).toEqual(
      small.map(({ digestion, analyte }) => `${digestion.digestion} ${analyte}`),
    );
    const kept = await runOf(records);
    expect(bearing(kept, 'scatter of readings not in the uncertainty')).toEqual([]);
  });

  it('name what was read without a result, and why', async () => {
    const exclusions = [
      {
        ...{ table: 'digestions', rowKey: 'D-305|Fe' },
        ...{ who: 'S. Varrendale', when: '2026-04-15', technicalCause: 'invented' },
      },
    ];
    // Ca is corrected for Pr, which was not read in D-306 then.
    const run = await runOf(
      { ...records, exclusions },
      ({ solution, analyte }) => solution === 'D-306' && analyte === 'Pr',
    );
    const told = [...run.withoutResult()].map(
      ({ digestion, analyte, reason }) => `${digestion.digestion} ${analyte}: ${reason}`,
    );
    const analytes = records.plan.analytes.map(({ analyte }) => analyte);
    expect(told).toEqual([
      'D-305 Fe: excluded',
      'D-306 Ca: an interferent was not read in the run',
      ...analytes.map((analyte) => `D-321 ${analyte}: no mass of the empty vessel`),
    ]);
  });
});
