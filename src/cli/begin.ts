import { isAbsolute, join } from 'node:path';
import { projectRoot } from '../notebook/project-root.js';
import { beginStudy } from '../records/begin/begin-study.js';
import { cautionRule, cautions } from '../report/sections/cautions-section.js';
import { type Command, parseArguments } from './command.js';

const usage = 'begin <study folder>';

/** Begins a study; refuses a folder that is not empty. */
export const begin: Command = {
  name: 'begin',
  usage,
  summary:
    'Writes a study to fill in: plan, register, tables with headings and units, and a guide with worked rows.',
  async run(args, terminal) {
    const [folder = ''] = parseArguments(args, {}, 1, usage).positionals;
    const path = isAbsolute(folder) ? folder : join(process.cwd(), folder);
    // The command that follows runs in the folder of this tool, from which another folder's path leads elsewhere.
    const fromTool = process.cwd() === projectRoot() ? folder : path;
    const files = await beginStudy(path, {
      example: join(projectRoot(), 'data', 'zircon-pigment'),
      cautionRule,
      cautions,
    });
    for (const file of files) terminal.out(file);
    terminal.out(`\n${cautionRule}`);
    terminal.out(
      `Read ${join(folder, 'README.md')}, fill in study.json first, then, in the folder of this tool: npx meltbook check ${fromTool}`,
    );
    return 0;
  },
};
