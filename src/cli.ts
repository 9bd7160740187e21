#!/usr/bin/env node
import type { Command, Terminal } from './cli/command.js';
import { MeltbookError } from './errors.js';

/** Commands by name, each loaded only when called: help must not wait for plotting or spreadsheets. */
const commands: Readonly<Record<string, { summary: string; load(): Promise<Command> }>> = {
  begin: {
    summary: 'begin a study: plan, register and tables to fill in, with a guide',
    load: async () => (await import('./cli/begin.js')).begin,
  },
  check: {
    summary: 'check the records of a study and list every problem',
    load: async () => (await import('./cli/check.js')).check,
  },
  run: {
    summary: 'run a notebook on a study and issue its report',
    load: async () => (await import('./cli/run.js')).run,
  },
  history: {
    summary: 'work out many runs one after the other: results and control history as CSV',
    load: async () => (await import('./cli/history.js')).history,
  },
  budget: {
    summary: 'evaluate the uncertainty budget of any measurement from a JSON file',
    load: async () => (await import('./cli/budget.js')).budget,
  },
  audit: {
    summary: 'verify every issued report against its manifest and the ledger',
    load: async () => (await import('./cli/audit.js')).audit,
  },
  'self-check': {
    summary: 'recompute published examples on this machine',
    load: async () => (await import('./cli/self-check.js')).selfCheck,
  },
  coverage: {
    summary: 'repeat the invented study over many seeds and count verdicts',
    load: async () => (await import('./cli/coverage.js')).coverage,
  },
  'demo-data': {
    summary: 'write the invented demonstration study again from its seed',
    load: async () => (await import('./cli/demo-data.js')).demoData,
  },
  notebooks: {
    summary: 'open the notebooks in Jupyter with the project’s own kernel',
    load: async () => (await import('./cli/notebooks.js')).notebooks,
  },
};

const terminal: Terminal = { out: (line) => console.log(line), err: (line) => console.error(line) };

async function main(args: readonly string[]): Promise<number> {
  const [name, ...rest] = args;
  if (name === undefined || name === '--help' || name === 'help') {
    terminal.out('meltbook: measurement uncertainty and method validation for borate fusion with ICP-OES\n');
    for (const [command, { summary }] of Object.entries(commands))
      terminal.out(`  ${command.padEnd(12)} ${summary}`);
    terminal.out('\nmeltbook <command> --help tells its arguments, meltbook --version the version.');
    terminal.out(
      'Exit codes: 0 done · 2 bad input · 3 records do not pass · 4 a run failed · 5 evidence does not hold · 6 a program is not installed · 130 stopped',
    );
    return name === undefined ? 2 : 0;
  }
  if (name === '--version') {
    terminal.out((await import('./notebook/versions.js')).versions().meltbook!);
    return 0;
  }
  const entry = Object.hasOwn(commands, name) ? commands[name] : undefined;
  if (entry === undefined) {
    terminal.err(`found "${name}", expected one of: ${Object.keys(commands).join(', ')}`);
    return 2;
  }
  const command = await entry.load();
  if (rest.includes('--help')) {
    terminal.out(`usage: meltbook ${command.usage}\n\n${command.summary}`);
    for (const line of (await command.help?.()) ?? []) terminal.out(line);
    return 0;
  }
  return command.run(rest, terminal);
}

main(process.argv.slice(2)).then(
  (code) => {
    process.exitCode = code;
  },
  (error: unknown) => {
    const known = error instanceof MeltbookError;
    terminal.err(
      known ? error.message : error instanceof Error ? (error.stack ?? error.message) : String(error),
    );
    process.exitCode = known ? error.exitCode : 1;
  },
);
