import type { FolderContent } from '../records/atomic-write.js';
import { encodeStudy, writeStudy } from '../records/write-study.js';
import { demonstrationSeed, type ZirconPigmentStudy, zirconPigmentStudy } from './zircon-pigment-study.js';

/**
 * Writes the demonstration data: the study's tables, its card, and the truth in a file of its own that nothing in the
 * program reads. The same seed gives the same bytes.
 *
 * @param folder such as `data/zircon-pigment`; replaced if it is there
 * @throws InputError the folder holds files that are not of this study
 */
export async function writeZirconPigment(folder: string, seed: number = demonstrationSeed): Promise<void> {
  const study = zirconPigmentStudy({ seed });
  await writeStudy(folder, study.records, { replace: true, extraFiles: filesBesideTables(study) });
}

/** Every file of the folder that `writeZirconPigment` writes, by name. */
export function zirconPigmentFiles(seed: number = demonstrationSeed): FolderContent {
  const study = zirconPigmentStudy({ seed });
  return { ...encodeStudy(study.records), ...filesBesideTables(study) };
}

function filesBesideTables(study: ZirconPigmentStudy): Record<'README.md' | 'truth.json', string> {
  return { 'README.md': studyCard(study), 'truth.json': `${JSON.stringify(study.truth, null, 1)}\n` };
}

/** The card beside the data: what they are, and that nobody measured them. */
function studyCard({ records, truth }: ZirconPigmentStudy): string {
  const { plan, digestions, readings } = records;
  const count = (names: readonly string[]) => new Set(names).size;
  return `# ${plan.title}

**These data are invented.** ${plan.laboratory}, its people, samples, reference materials, certificates and equipment do
not exist; no one measured anything. They show meltbook at work and test it. Never use a figure from here as a check
value of a method.

Made by \`src/scenario\` from seed ${truth.switches.seed} (\`npm run data\` makes the same bytes again): a forward model
from true contents to raw records. Every error that a record states is drawn from the distribution it states.

- Matrix: ${plan.matrix}; ${plan.nominal.portionG} g portion, ${plan.nominal.fluxG} g lithium metaborate, ${plan.nominal.solutionG} g of solution.
- ${digestions.length} digestions on ${count(digestions.map((d) => d.day))} days, ${readings.length} readings in ${count(readings.map((r) => r.run))} runs.
- Certified values, control results and proficiency results are in the form and unit that the plan reports the analyte
  in (oxide). Contents of solutions are of the element, mg/kg.
- Some things were made to go wrong. What, and the true values, stand in \`truth.json\`, which the program never reads:
  leave it closed until you have seen the report.
`;
}
