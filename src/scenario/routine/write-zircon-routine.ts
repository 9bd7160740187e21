import type { FolderContent } from '../../records/atomic-write.js';
import { encodeStudy, writeStudy } from '../../records/write-study.js';
import { demonstrationSeed } from '../zircon-pigment-study.js';
import { type ZirconRoutineRun, zirconRoutineRun } from './zircon-routine-run.js';

/**
 * Writes the invented routine run: its tables, its card, and the truth in a file of its own that nothing in the program reads.
 *
 * @param folder such as `data/zircon-routine`; replaced if it is there
 * @throws InputError the folder holds files that are not of this study
 */
export async function writeZirconRoutine(folder: string, seed: number = demonstrationSeed): Promise<void> {
  const run = zirconRoutineRun(seed);
  await writeStudy(folder, run.records, { replace: true, extraFiles: filesBesideTables(run) });
}

/** Every file of the folder that `writeZirconRoutine` writes, by name. */
export function zirconRoutineFiles(seed: number = demonstrationSeed): FolderContent {
  const run = zirconRoutineRun(seed);
  return { ...encodeStudy(run.records), ...filesBesideTables(run) };
}

function filesBesideTables(run: ZirconRoutineRun): Record<'README.md' | 'truth.json', string> {
  return { 'README.md': card(run), 'truth.json': `${JSON.stringify(run.truth, null, 1)}\n` };
}

function card({ records, truth }: ZirconRoutineRun): string {
  const { plan, digestions, readings } = records;
  return `# ${plan.title}

**These data are invented.** ${plan.laboratory}, its samples, customers, certificates and equipment do not exist; no one measured
anything. Never use a figure from here as a check value of a method.

Made by \`src/scenario/routine\` from seed ${truth.seed} (\`npm run data\` makes the same bytes again), with the certificates of
the validation in \`data/zircon-pigment\`.

- ${new Set(digestions.filter((d) => d.kind === 'sample').map((d) => d.sample)).size} samples, ${digestions.length} digestions with blanks and a reference material, ${readings.length} readings in one calibrated run.
- Some things were made to go wrong, one of each kind that results must be flagged for. What, and the true values, stand in
  \`truth.json\`, which the program never reads: leave it closed until you have seen the report.
`;
}
