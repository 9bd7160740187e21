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
    expect(heading).toBe('run,day,digestion,sample,kind,analyte,reported as,value,standard uncertainty,unit');
    const expected: string[] = [];
    const control: HistoryRecord[] = [];
    const { records, runs } = await streamStudy(demonstration);
    const oxides = new Map(records.plan.analytes.map(({ analyte, oxide }) => [analyte, oxide ?? analyte]));
    for await (const run of streamResults(records, runs())) {
      control.push(...run.control);
      for (const { digestion, analyte, value, standardUncertainty, unit } of run.results()) {
        const { digestion: name, sample, kind } = digestion;
        const cells = [run.run, run.day, name, sample, kind, analyte, oxides.get(analyte)];
        expected.push([...cells, value, standardUncertainty, unit].join());
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

    // The control results serve as the history of a study.
    const withHistory = copyOf((study) =>
      cpSync(join(folder, 'history.csv'), join(study, 'history.csv'), { force: true }),
    );
    expect((await readStudy(withHistory)).history).toEqual(control);
    expect(control.length).toBeGreaterThan(100);
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
