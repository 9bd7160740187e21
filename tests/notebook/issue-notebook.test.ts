import { cpSync, existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { RecordsError } from '../../src/errors.js';
import type { Notebook } from '../../src/notebook/format/notebook.js';
import { writeNotebook } from '../../src/notebook/format/write-notebook.js';
import { issueNotebook } from '../../src/notebook/issue-notebook.js';
import { audit } from '../../src/report/issue/audit.js';
import { markdown, notebookOf, parameters } from '../support/notebook-of.js';
import { temporaryFolder } from '../support/temporary-folder.js';

const study = resolve(__dirname, '../../data/zircon-pigment');
const title = markdown('# Show what an issue holds');
const own = "let studyFolder = '';\nlet outputFolder = '';";
const writing = [
  "import * as fs from 'fs';\nimport * as path from 'path';",
  "fs.mkdirSync(path.join(outputFolder, 'tables'), { recursive: true });",
];

/** A request for a notebook of its own in a folder of its own; temporary files go there too. */
async function requestOf(notebook: Notebook) {
  const folder = temporaryFolder();
  const scratch = process.env.TMPDIR;
  process.env.TMPDIR = temporaryFolder();
  onTestFinished(() => {
    if (scratch === undefined) delete process.env.TMPDIR;
    else process.env.TMPDIR = scratch;
  });
  const path = join(folder, '99-show.ipynb');
  await writeNotebook(path, notebook);
  return { notebook: path, study, reports: join(folder, 'reports'), timeoutSecondsPerCell: 30 };
}

const staging = () => readdirSync(process.env.TMPDIR!).filter((name) => name.startsWith('meltbook-'));

describe('a notebook that is to issue a report', () => {
  it('hands on what it wrote, with its parameters, the records it read and its own outputs', async () => {
    const request = await requestOf(
      notebookOf(
        title,
        parameters(`${own}\nlet factor = 2;`),
        ...writing,
        "fs.writeFileSync(path.join(outputFolder, 'report.json'), JSON.stringify({ data: { twice: factor * 21 } }));",
        "fs.writeFileSync(path.join(outputFolder, 'tables/one.csv'), path.basename(studyFolder));",
        "console.log('twice', factor);",
      ),
    );
    const { issue, data } = await issueNotebook({ ...request, set: { factor: '3' } });
    expect(data).toEqual({ twice: 63 });
    expect([issue.study, issue.number]).toEqual(['zircon-pigment', '0001']);
    expect(readFileSync(join(issue.folder, 'tables/one.csv'), 'utf8')).toBe('zircon-pigment');
    expect(readFileSync(join(issue.folder, '99-show.ipynb'), 'utf8')).toContain('twice 3');
    expect(issue.manifest.parameters).toEqual({ notebook: '99-show', factor: 3 });
    expect(issue.manifest.records.map((r) => r.path)).toContain('digestions.csv');
    expect((await audit(request.reports)).problems).toEqual([]);
    expect(staging()).toEqual([]);
  });

  it('and throws: no number, no line in the ledger; the notebook is kept as far as it came', async () => {
    const request = await requestOf(
      notebookOf(title, parameters(own), ...writing, "console.log('before');", "throw new Error('spilled');"),
    );
    const failure = await issueNotebook(request).catch((error: unknown) => error);
    expect(failure).toMatchObject({ exitCode: 4 });
    // The sixth cell of the source is the seventh of the notebook that is kept: the parameters given come before it.
    const { message } = failure as Error;
    expect(message).toContain('99-show: cell 7 failed, no report is issued\n\nError: spilled');
    expect(message).toContain("In this cell:\nthrow new Error('spilled');");
    expect(readdirSync(join(request.reports, 'zircon-pigment'))).toEqual(['failed']);
    expect(existsSync(join(request.reports, 'ledger.jsonl'))).toBe(false);
    const failed = join(request.reports, 'zircon-pigment/failed');
    const kept = readFileSync(join(failed, readdirSync(failed)[0]!, '99-show.ipynb'), 'utf8');
    expect(kept).toContain('before');
    expect(kept).toContain('spilled');
    expect(staging()).toEqual([]);
  });

  it('and writes none is a failed run', async () => {
    const request = await requestOf(notebookOf(title, parameters(own), ...writing));
    await expect(issueNotebook(request)).rejects.toMatchObject({
      exitCode: 4,
      message: 'the notebook wrote no report',
    });
    expect(existsSync(join(request.reports, 'ledger.jsonl'))).toBe(false);
  });

  it('starts on no records that do not pass, and with no parameter that it does not declare', async () => {
    const request = await requestOf(notebookOf(title, parameters(own), 'process.exit(1);'));
    const broken = join(temporaryFolder(), 'zircon-pigment');
    cpSync(study, broken, { recursive: true });
    writeFileSync(join(broken, 'moisture.csv'), 'sample\n');
    await expect(issueNotebook({ ...request, study: broken })).rejects.toThrow(RecordsError);
    await expect(issueNotebook({ ...request, set: { studyFolder: '/' } })).rejects.toThrow(
      'parameter studyFolder: this notebook has none to set',
    );
    expect(existsSync(request.reports)).toBe(false);
  });

  it('starts on no folder of reports that is a file, and on no study whose name cannot stand for a folder', async () => {
    const request = await requestOf(notebookOf(title, parameters(own), 'process.exit(1);'));
    const file = join(temporaryFolder(), 'README.md');
    writeFileSync(file, '');
    for (const reports of [file, join(file, 'deeper', 'still')])
      await expect(issueNotebook({ ...request, reports })).rejects.toMatchObject({
        exitCode: 2,
        message: `reports: found a file at ${file}, expected a folder, or none yet, at ${reports}`,
      });
    const spaced = join(temporaryFolder(), 'my study');
    cpSync(study, spaced, { recursive: true });
    await expect(issueNotebook({ ...request, study: spaced })).rejects.toMatchObject({
      exitCode: 2,
      message: 'study: found "my study", expected letters, digits, hyphens and underscores only',
    });
    expect(existsSync(request.reports)).toBe(false);
  });

  it('is found by name among those of the project, by path wherever it lies', async () => {
    const there = { study, reports: temporaryFolder() };
    await expect(issueNotebook({ ...there, notebook: '99-nowhere' })).rejects.toThrow('99-nowhere');
    // A path is never taken for the name of another notebook.
    await expect(issueNotebook({ ...there, notebook: 'nowhere/20-validate-a-matrix.ipynb' })).rejects.toThrow(
      'nowhere/20-validate-a-matrix.ipynb',
    );
  });
});
