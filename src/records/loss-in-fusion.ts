import type { StudyPlan } from './study.js';
import type { DigestionRecord } from './tables/digestions.js';

/**
 * What is missing to know whether a portion reached the solution whole. What spits or stays back before dissolution does not show
 * in the mass of the solution: either the crucible with melt is weighed or the part that is retained is a stated input.
 *
 * @returns a clause; null where every analyte has the stated input, or the melt of every portion was weighed
 * @example
 * lossInFusionOpen({ analytes: [{ analyte: 'Al' }], statedInputs: [] }, [{ kind: 'sample', crucibleWithMeltG: null }]) // => 'no mass of the crucible with melt for 1 of 1 digestions with a portion, and no stated input "retained in fusion" for Al'
 */
export function lossInFusionOpen(
  plan: {
    readonly analytes: readonly Pick<StudyPlan['analytes'][number], 'analyte'>[];
    readonly statedInputs: readonly Pick<StudyPlan['statedInputs'][number], 'name' | 'analyte'>[];
  },
  digestions: readonly Pick<DigestionRecord, 'kind' | 'crucibleWithMeltG'>[],
): string | null {
  const statedFor = plan.statedInputs.filter((s) => s.name === 'retained in fusion').map((s) => s.analyte);
  if (statedFor.includes('*')) return null;
  const open = plan.analytes.map((a) => a.analyte).filter((each) => !statedFor.includes(each));
  const portions = digestions.filter((d) => d.kind !== 'blank');
  const unweighed = portions.filter((d) => d.crucibleWithMeltG === null).length;
  if (open.length === 0 || unweighed === 0) return null;
  return `no mass of the crucible with melt for ${unweighed} of ${portions.length} digestions with a portion, and no stated input "retained in fusion" for ${open.join(', ')}`;
}

/** The same as a sentence for a report; none where nothing is open. */
export function lossInFusionSentences(...records: Parameters<typeof lossInFusionOpen>): string[] {
  const open = lossInFusionOpen(...records);
  if (open === null) return [];
  return [
    `Loss in fusion (spitting, or what stays back before dissolution) is not studied: ${open}. It counts as none with no uncertainty, and the mass of the solution would not show it.`,
  ];
}
