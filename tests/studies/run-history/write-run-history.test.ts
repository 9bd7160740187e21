import { cpSync, existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { InputError, RecordsError } from '../../../src/errors.js';
import { readStudy } from '../../../src/records/read-study.js';
import { streamStudy } from '../../../src/records/stream-study.js';
import type { HistoryRecord } from '../../../src/records/tables/history.js';
import { streamResults } from '../../../src/studies/result-stream/stream-results.js';
import { writeRunHistory } from '../../../src/studies/run-history/write-run-history.js';
import { temporaryFolder } from '../../support/temporary-folder.js';

const demonstration = 'data/zircon-pigment';

function copyOf(edit: (folder: string) => void): string {
  const folder = join(temporaryFolder(), 'study');
  cpSync(demonstration, folder, { recursive: true });
  edit(folder);
  return folder;
}

/** What lies beside the folder, hidden files too: nothing half written may. */
const beside = (folder: string) => readdirSync(dirname(folder));

describe('results and control results of a study, run by run', () => {
  it('are those of the stream, to the last bit', async () => {
    const folder = join(temporaryFolder(), 'found');
    const found = await writeRunHistory(demonstration, folder);
    const [heading, ...lines] = readFileSync(join(folder, 'results.csv'), 'utf8').trimEnd().split('\n');
    expect(heading).toBe(
      'run,day,digestion,sample,kind,analyte,reported as,value,standard uncertainty,unit,remarks',
    );
    const expected: string[] = [];
    const control: HistoryRecord[] = [];
    const { records, runs } = await streamStudy(demonstration);
    const oxides = new Map(records.plan.analytes.map(({ analyte, oxide }) => [analyte, oxide ?? analyte]));
    for await (const run of streamResults(records, runs())) {
      control.push(...run.control);
      for (const { digestion, analyte, value, standardUncertainty, unit, remarks } of run.results()) {
        const { digestion: name, sample, kind } = digestion;
        const cells = [run.run, run.day, name, sample, kind, analyte, oxides.get(analyte)];
        const told = remarks.join('; ');
        cells.push(String(value), String(standardUncertainty), unit, told.includes(';') ? `"${told}"` : told);
        expected.push(cells.join());
      }
    }
    expect(lines).toEqual(expected);
    expect(lines.length).toBeGreaterThan(1000);
    const days = [...new Set(records.digestions.map(({ day }) => day))].sort();
    expect(found).toMatchObject({
      ...{ study: 'zircon-pigment', invented: true, runs: 11 },
      ...{ results: lines.length, controlResults: control.length },
    });
    expect(found.days![0] >= days[0]!).toBe(true);
    const about = readFileSync(join(folder, 'about.md'), 'utf8');
    expect(about).toContain('Invented data');
    expect(about).toContain(`${lines.length} mass fractions`);
    expect(about).toContain('an authorised person releases them');
    expect(about).toContain(
      'of the check solution CHK by the calibration of the run, in mg/kg of the solution',
    );
    expect(about).toContain('holds for its mean too. As `history.csv` of a study');
    expect(about).toContain('the day is that of the first reading of the run');

    // The control results serve as the history of a study.
    const withHistory = copyOf((study) =>
      cpSync(join(folder, 'history.csv'), join(study, 'history.csv'), { force: true }),
    );
    expect((await readStudy(withHistory)).history).toEqual(control);
    expect(control.length).toBeGreaterThan(100);
  });

  it('name what runs lack, with the results and runs it bears on', async () => {
    const folder = join(temporaryFolder(), 'found');
    const found = await writeRunHistory(demonstration, folder);
    const { plan, digestions, dilutions, readings } = await readStudy(demonstration);
    // Runs with procedure blanks enough, counted from the records.
    const digestionOf = new Map(dilutions.map((row) => [row.dilution, row.digestion]));
    const isBlank = new Set(
      digestions.flatMap((row) => (row.sample === plan.blanks.procedure ? [row.digestion] : [])),
    );
    const blanks = new Map<string, Set<string>>();
    for (const { run, solution } of readings) {
      const digestion = digestionOf.get(solution) ?? solution;
      const own = blanks.get(run) ?? new Set<string>();
      blanks.set(run, isBlank.has(digestion) ? own.add(digestion) : own);
    }
    // Digestions were read in R-11 on the line of the internal standard alone.
    const lacking = [...blanks].flatMap(([run, own]) => (own.size < 2 && run !== 'R-11' ? [run] : []));
    expect(lacking).toEqual(['R-01', 'R-03', 'R-04', 'R-05', 'R-06', 'R-08', 'R-09', 'R-10']);
    const rows = readFileSync(join(folder, 'results.csv'), 'utf8').split('\n');
    const bare = rows.filter((row) => row.includes('no blank subtracted'));
    const runsOf = (analyte: string) => [
      ...new Set(bare.filter((row) => row.includes(`,${analyte},`)).map((row) => row.slice(0, 4))),
    ];
    expect(runsOf('Fe')).toEqual(lacking);
    // Blanks of R-07 are excluded for Ca alone.
    const all = [...lacking, 'R-07'].sort();
    expect(runsOf('Ca')).toEqual(all);
    expect(found.remarks.get('no blank subtracted')).toEqual({ results: bare.length, where: all });
    const about = readFileSync(join(folder, 'about.md'), 'utf8');
    expect(about).toContain(`- no blank subtracted: ${bare.length}, in ${all.join(', ')}\n`);
    expect(about).toContain('- runs without a result: R-11\n');
    expect(about).not.toContain('- runs without a result of a reference material');
  });

  it('name the days of the earliest and the latest run, whatever their order in the file', async () => {
    const study = copyOf((folder) => {
      const file = join(folder, 'readings.csv');
      const [heading, ...lines] = readFileSync(file, 'utf8').trimEnd().split('\n');
      const own = (run: string) => lines.filter((line) => line.startsWith(`${run},`));
      writeFileSync(file, `${[heading, ...own('R-03'), ...own('R-02')].join('\n')}\n`);
    });
    const days = (await readStudy(demonstration)).readings.map(({ run, time }) => [run, time.slice(0, 10)]);
    const dayOf = (run: string) => days.find(([name]) => name === run)![1]!;
    expect(dayOf('R-02') < dayOf('R-03')).toBe(true);
    const found = await writeRunHistory(study, join(dirname(study), 'found'));
    expect(found.days).toEqual([dayOf('R-02'), dayOf('R-03')]);
    expect(found.notRead.length).toBeGreaterThan(50);
    const about = readFileSync(join(dirname(study), 'found', 'about.md'), 'utf8');
    expect(about).toContain(`- digestions read in no run: ${found.notRead.slice(0, 10).join(', ')} and `);
  });

  it('are not written where a later run has a problem, and nothing is left of them', async () => {
    const study = copyOf((folder) => {
      const file = join(folder, 'readings.csv');
      const lines = readFileSync(file, 'utf8').split('\n');
      const last = lines.length - 2;
      const cells = lines[last]!.split(',');
      cells[lines[0]!.split(',').indexOf('intensity counts/s')] = 'none';
      lines[last] = cells.join(',');
      writeFileSync(file, lines.join('\n'));
    });
    const folder = join(dirname(study), 'found');
    const error: unknown = await writeRunHistory(study, folder).catch((reason: unknown) => reason);
    expect(error).toBeInstanceOf(RecordsError);
    expect((error as RecordsError).issues).toMatchObject([{ file: 'readings.csv', found: '"none"' }]);
    expect(beside(folder)).toEqual(['study']);
  });

  it('leave nothing when they are stopped, and nothing is written over', async () => {
    const folder = join(temporaryFolder(), 'found');
    const stop = new AbortController();
    stop.abort(new InputError('stopped'));
    await expect(writeRunHistory(demonstration, folder, { signal: stop.signal })).rejects.toThrow('stopped');
    expect(beside(folder)).toEqual([]);
    await writeRunHistory(demonstration, folder);
    const before = readFileSync(join(folder, 'about.md'), 'utf8');
    await expect(writeRunHistory(demonstration, folder)).rejects.toThrow('it is not overwritten');
    expect(readFileSync(join(folder, 'about.md'), 'utf8')).toBe(before);
    expect(existsSync(join(folder, 'history.csv'))).toBe(true);
    expect(beside(folder)).toEqual(['found']);
  });
});
