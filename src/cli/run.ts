import { type IssueNotebookRequest, issueNotebook } from '../notebook/issue-notebook.js';
import { listNotebooks } from '../notebook/list-notebooks.js';
import { verdictText } from '../report/verdict-text.js';
import type { Finding } from '../validation/finding.js';
import { type Command, parseArguments, textOption, UsageError } from './command.js';
import { untilStopped } from './until-stopped.js';

const usage = 'run <notebook> --study <folder> [--set name=value ...] [--reports <folder>] [--json]';

/** Runs a notebook on a study and issues its report; exit code 4 where the run failed. */
export const run: Command = {
  name: 'run',
  usage,
  summary:
    'Checks the records, runs the notebook on a fresh kernel, issues the report and prints its verdicts.',
  async help() {
    const listed = await listNotebooks();
    return [
      '',
      'Notebooks, by name or number; below each what --set may change, with its value where it is not set:',
      ...listed.flatMap(({ name, job, parameters }) => [
        `  ${name.padEnd(32)} ${job}`,
        ...parameters.map((p) => `${' '.repeat(6)}--set ${p.name}=… (${p.value})`),
      ]),
      '',
      '--reports <folder>  where issues are numbered; reports/ of this tool where it is left out',
      '--json              prints the findings as JSON',
    ];
  },
  async run(args, terminal) {
    const parsed = parseArguments(
      args,
      {
        study: { type: 'string' },
        set: { type: 'string', multiple: true },
        reports: { type: 'string' },
        json: { type: 'boolean' },
      },
      1,
      usage,
    );
    const study = textOption(parsed, 'study', '');
    if (study === '') throw new UsageError(`expected --study <folder>\nusage: meltbook ${usage}`);
    const reports = textOption(parsed, 'reports', '');
    const json = parsed.values.json === true;
    let isWriting = false;
    const request: IssueNotebookRequest = {
      notebook: parsed.positionals[0]!,
      study,
      set: assignments(parsed.values.set),
      ...(reports === '' ? {} : { reports }),
      onCell: ({ cell, of, state }) => {
        isWriting = cell === of && state === 'done';
        if (!json && state === 'done') terminal.err(`cell ${cell} of ${of}`);
      },
    };
    const { issue, data } = await untilStopped(
      terminal,
      () => isWriting,
      () => issueNotebook(request),
    );
    const findings = (data as { findings?: readonly Finding[] }).findings ?? [];
    if (json) {
      terminal.out(JSON.stringify({ folder: issue.folder, number: issue.number, findings }, null, 2));
    } else {
      for (const line of verdictText(findings)) terminal.out(line);
      terminal.out(`\nIssue ${issue.study}/${issue.number}: ${issue.folder}/report.html`);
    }
    return 0;
  },
};

function assignments(values: unknown): Record<string, string> {
  const texts = Array.isArray(values) ? values.map(String) : [];
  return Object.fromEntries(
    texts.map((text) => {
      const at = text.indexOf('=');
      if (at < 1) throw new UsageError(`--set: found "${text}", expected name=value`);
      return [text.slice(0, at), text.slice(at + 1)];
    }),
  );
}
