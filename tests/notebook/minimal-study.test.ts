import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { validationDossier } from '../../src/notebook/dossier.js';
import { type IssueNotebookRequest, issueNotebook } from '../../src/notebook/issue-notebook.js';
import { openStudy } from '../../src/notebook/open-study.js';
import { sectionOrAbsence } from '../../src/notebook/show-section.js';
import { checkStudy } from '../../src/records/read-study.js';
import { writeStudy } from '../../src/records/write-study.js';
import { audit } from '../../src/report/issue/audit.js';
import { zirconRoutineRun } from '../../src/scenario/routine/zircon-routine-run.js';
import { validateMatrix } from '../../src/studies/matrix/validate-matrix.js';
import { minimalStudy } from '../support/minimal-study.js';
import { temporaryFolder } from '../support/temporary-folder.js';

/** A folder with a study that holds the three required tables alone. */
async function minimalFolder(): Promise<string> {
  const folder = join(temporaryFolder(), 'minimal');
  await writeStudy(folder, minimalStudy);
  return folder;
}

describe('a study of digestions, calibration and readings alone', () => {
  it('passes its check', async () => {
    const { issues, missingTables } = await checkStudy(await minimalFolder());
    expect(issues).toEqual([]);
    expect(missingTables).toHaveLength(13);
  });

  it.each<Pick<IssueNotebookRequest, 'notebook' | 'set'>>([
    { notebook: '20' },
    { notebook: '30', set: { trials: '4000' } },
    { notebook: '50', set: { replacedEquipment: 'B-1', replacementEquipment: 'B-2' } },
    { notebook: '70' },
  ])(
    'is run by notebook $notebook to its report',
    async (request) => {
      const reports = temporaryFolder();
      const { issue } = await issueNotebook({ ...request, study: await minimalFolder(), reports });
      expect(issue.number).toBe('0001');
      const executed = Object.keys(issue.manifest.files).length;
      expect(executed).toBeGreaterThan(0);
      if (request.notebook !== '20') return;
      const notebook = readFileSync(join(issue.folder, '20-validate-a-matrix.ipynb'), 'utf8');
      expect(notebook).toContain('No section on trueness in this report: nothing was studied for it.');
    },
    60_000,
  );

  it('has sections on what was studied, one sentence on what was not, and no other names', async () => {
    const study = await openStudy(await minimalFolder());
    const report = await validationDossier(study, validateMatrix(study.records));
    expect(sectionOrAbsence(report, 'characteristic/linearity')).toMatchObject({ heading: 'Linearity' });
    expect(sectionOrAbsence(report, 'characteristic/recovery before fusion')).toBe(
      'No section on recovery before fusion in this report: nothing was studied for it.',
    );
    expect(() => sectionOrAbsence(report, 'characteristic/truness')).toThrow(
      /^section characteristic\/truness: expected one of verdicts, .*characteristic\/linearity/,
    );
    // A report that has no section on any characteristic holds none of them by mistake.
    const plain = { ...report, sections: report.sections.filter(({ id }) => id !== 'characteristics') };
    expect(() => sectionOrAbsence(plain, 'characteristic/trueness')).toThrow('expected one of verdicts');
  });
});

describe('a study whose tables are sheets of one workbook', () => {
  it('is run to its report, whose manifest holds the hash of the workbook', async () => {
    const study = join(temporaryFolder(), 'minimal');
    await writeStudy(study, minimalStudy, { form: 'xlsx' });
    const reports = temporaryFolder();
    const { issue } = await issueNotebook({ notebook: '20', study, reports });
    const bytes = readFileSync(join(study, 'tables.xlsx'));
    expect(issue.manifest.records.map(({ path }) => path)).toEqual([
      'study.json',
      'equipment.json',
      'tables.xlsx',
    ]);
    expect(issue.manifest.records[2]).toEqual({
      path: 'tables.xlsx',
      bytes: bytes.length,
      sha256: createHash('sha256').update(bytes).digest('hex'),
    });
    const report = readFileSync(join(issue.folder, 'report.html'), 'utf8');
    expect(report).toContain('tables.xlsx, sheet calibration');
    expect((await audit(reports)).problems).toEqual([]);
  }, 60_000);
});

describe('a routine run', () => {
  it('is not validated: the message names the notebook for it', () => {
    expect(() => validateMatrix(zirconRoutineRun(77).records)).toThrow(
      'study zircon-routine: found a routine run (key "routine" in its plan), expected the validation of a matrix; for the results of a routine run use notebook 40-results-with-uncertainty',
    );
  });
});
