import { mkdtemp, readdir, readFile, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { InputError, MeltbookError } from '../errors.js';
import type { FolderContent } from '../records/atomic-write.js';
import { withIssueNumber } from '../report/html/issue-mark.js';
import { requireStudyName } from '../report/issue/issue-folders.js';
import type { ManifestFile } from '../report/issue/manifest.js';
import { requireReportsFolder } from '../report/issue/reports-folder.js';
import { writeFailedRun } from '../report/issue/write-failed-run.js';
import { type Issue, writeIssue } from '../report/issue/write-issue.js';
import { evidenceCopy } from './format/evidence-copy.js';
import { type ParameterValues, parameterFromText } from './format/inject-parameters.js';
import type { Notebook } from './format/notebook.js';
import { parametersOf } from './format/parameter-declarations.js';
import { readNotebook } from './format/read-notebook.js';
import { notebookToText } from './format/write-notebook.js';
import { notebookPath, ownParameters } from './list-notebooks.js';
import { type OpenedPlan, type OpenedStudy, openPlan, openStudy } from './open-study.js';
import { projectRoot } from './project-root.js';
import { type CellProgress, type NotebookRun, runNotebook } from './run-notebook.js';
import { timestamp, versions } from './versions.js';

/** A notebook to run on a study. */
export interface IssueNotebookRequest {
  /** Name of a notebook of the project, with or without `.ipynb`; anything with a separator is a path. */
  readonly notebook: string;
  /** Folder of the study; a relative path counts from the project's folder. */
  readonly study: string;
  /** Parameters as text, by name. */
  readonly set?: Readonly<Record<string, string>>;
  /** Folder of the issues; `reports` of the project where not given. */
  readonly reports?: string;
  readonly timeoutSecondsPerCell?: number;
  readonly onCell?: (progress: CellProgress) => void;
}

/** What came of it. */
export interface IssuedNotebook {
  readonly issue: Issue;
  /** `data` of the report's JSON. */
  readonly data: unknown;
}

/**
 * Runs a notebook on a study and issues its report: numbered, with manifest and ledger line, whole or not at all.
 *
 * @throws RecordsError the study does not pass its check; nothing is run
 * @throws InputError a notebook or a parameter that there is not, a name or a place that no report can have
 * @throws MeltbookError the run failed: its notebook is kept under `failed`, no report is issued
 */
export async function issueNotebook(request: IssueNotebookRequest): Promise<IssuedNotebook> {
  const root = projectRoot();
  const reports = request.reports ?? join(root, 'reports');
  await requireReportsFolder(reports);
  const path = await notebookPath(request.notebook);
  const name = basename(path, '.ipynb');
  const source = await readNotebook(path);
  const readsPlan = parametersOf(source).some(({ name }) => name === 'planFolder');
  const study = readsPlan ? await openPlan(request.study) : await openStudy(request.study);
  requireStudyName(study.name);
  const staging = await mkdtemp(join(tmpdir(), 'meltbook-'));
  try {
    const output = join(staging, 'report');
    const parameters = {
      ...given(source, request.set ?? {}),
      [readsPlan ? 'planFolder' : 'studyFolder']: study.folder,
      outputFolder: output,
    };
    const run = await runNotebook({
      source,
      parameters,
      cwd: join(root, 'notebooks'),
      ...(request.timeoutSecondsPerCell === undefined
        ? {}
        : { timeoutSecondsPerCell: request.timeoutSecondsPerCell }),
      ...(request.onCell === undefined ? {} : { onCell: request.onCell }),
    });
    if (!run.ok) throw await failed(run, reports, study.name, name);
    const files = {
      ...(await filesIn(output)),
      [`${name}.ipynb`]: notebookToText(evidenceCopy(run.notebook)),
    };
    const issue = await writeIssue({
      root: reports,
      study: study.name,
      created: timestamp(),
      versions: versions(),
      seed: null,
      parameters: { notebook: name, ...given(source, request.set ?? {}) },
      records: await recordsOf(study),
      files: (number) => numbered(files, { study: study.name, number }),
    });
    const json = files['report.json'];
    return {
      issue,
      data:
        json === undefined
          ? null
          : (JSON.parse(Buffer.from(json).toString('utf8')) as { data: unknown }).data,
    };
  } finally {
    await rm(staging, { recursive: true, force: true });
  }
}

/** The files of an issue with its number in the report, which was written before it had one. */
function numbered(
  files: FolderContent,
  issue: { readonly study: string; readonly number: string },
): FolderContent {
  const page = files['report.html'];
  if (page === undefined) return files;
  const html = typeof page === 'string' ? page : Buffer.from(page).toString('utf8');
  return { ...files, 'report.html': withIssueNumber(html, issue) };
}

function given(source: Notebook, set: Readonly<Record<string, string>>): ParameterValues {
  const declared = parametersOf(source);
  const names = declared.map((d) => d.name).filter((n) => !(ownParameters as readonly string[]).includes(n));
  return Object.fromEntries(
    Object.entries(set).map(([name, text]) => {
      const declaration = declared.find((d) => d.name === name && names.includes(name));
      if (declaration === undefined) {
        throw new InputError(
          names.length === 0
            ? `parameter ${name}: this notebook has none to set`
            : `parameter ${name}: expected one of ${names.join(', ')}`,
        );
      }
      return [name, parameterFromText(text, declaration)];
    }),
  );
}

async function failed(
  run: NotebookRun,
  reports: string,
  study: string,
  name: string,
): Promise<MeltbookError> {
  const { cell, source, message } = run.failure ?? { cell: 0, source: '', message: 'no reason was given' };
  const folder = await writeFailedRun({
    root: reports,
    study,
    created: timestamp(),
    files: { [`${name}.ipynb`]: notebookToText(run.notebook) },
  });
  return new MeltbookError(
    `${name}: cell ${cell} failed, no report is issued\n\n${message}\n\nIn this cell:\n${source}\n\nThe notebook as far as it came: ${folder}`,
    4,
  );
}

async function filesIn(folder: string): Promise<Record<string, Uint8Array>> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  const files: Record<string, Uint8Array> = {};
  for (const entry of entries) {
    if (!entry.isFile()) continue;
    const path = join(entry.parentPath, entry.name);
    files[path.slice(folder.length + 1).replaceAll('\\', '/')] = await readFile(path);
  }
  if (Object.keys(files).length === 0) throw new MeltbookError('the notebook wrote no report', 4);
  return files;
}

/** A sheet is no file of its own: its workbook stands in the manifest. */
async function recordsOf(study: OpenedStudy | OpenedPlan): Promise<ManifestFile[]> {
  const files = study.files.filter(({ sheetOf }) => sheetOf === undefined);
  return Promise.all(
    files.map(async ({ file, sha256 }) => ({
      path: file,
      bytes: (await stat(join(study.folder, file))).size,
      sha256,
    })),
  );
}
