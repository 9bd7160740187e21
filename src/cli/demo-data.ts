import { join } from 'node:path';
import { projectRoot } from '../notebook/project-root.js';
import { writeZirconRoutine } from '../scenario/routine/write-zircon-routine.js';
import { writeZirconPigment } from '../scenario/write-zircon-pigment.js';
import { demonstrationSeed } from '../scenario/zircon-pigment-study.js';
import { type Command, integerOption, parseArguments, textOption } from './command.js';

const usage = 'demo-data [--seed <number>] [--folder <folder>]';

/** Writes the invented study and the routine run from their seed. */
export const demoData: Command = {
  name: 'demo-data',
  usage,
  summary:
    'Writes the invented zircon-pigment study and, beside it, a routine run; the seed decides every error in them.',
  async run(args, terminal) {
    const parsed = parseArguments(args, { seed: { type: 'string' }, folder: { type: 'string' } }, 0, usage);
    const folder = textOption(parsed, 'folder', join(projectRoot(), 'data', 'zircon-pigment'));
    const seed = integerOption(parsed, 'seed', demonstrationSeed, 0);
    await writeZirconPigment(folder, seed);
    terminal.out(`Invented study of seed ${seed}: ${folder}`);
    const routine = join(folder, '..', 'zircon-routine');
    await writeZirconRoutine(routine, seed);
    terminal.out(`Invented routine run of seed ${seed}: ${routine}`);
    return 0;
  },
};
