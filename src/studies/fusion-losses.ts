import { readingErrorUncertainties } from '../chain/balance.js';
import type { EquipmentRecord } from '../records/study.js';
import type { StudyRecords } from '../records/study-records.js';
import type { DigestionRecord } from '../records/tables/digestions.js';
import { median } from '../statistics/descriptive/median.js';
import { generalisedEsd } from '../statistics/screening/generalised-esd.js';

/** Fewer digestions than this of one charge are not held against each other. */
export const leastFusions = 6;

/** Level of the procedure over all fusions of one charge. */
export const fusionLevel = 0.01;

/** Mass balance of one fusion: what crucible, portion and flux lost until the melt was weighed. Balance readings in air. */
export interface FusionLoss {
  readonly digestion: string;
  readonly portionAndFluxG: number;
  readonly lossG: number;
  /** Of portion and flux together. */
  readonly lossPercent: number;
}

/** Fusions of one charge, held against each other. */
export interface FusionsOfCharge {
  /** The sample; or in words, which samples. */
  readonly charge: string;
  readonly losses: readonly FusionLoss[];
  readonly medianPercent: number;
  /** Digestions whose loss is outlying; null where they are fewer than `leastFusions`. */
  readonly outlying: readonly string[] | null;
}

/**
 * Mass balances of all fusions whose melt was weighed. What flux and sample lose on ignition cannot be told apart from spitting in
 * one fusion, so that nothing is corrected; but a charge loses the same each time. A sample fused at least six times is a charge of
 * its own, all other samples are one, and so are all other blanks. Outlying: generalised ESD at the 1 % level, up to a fifth of them,
 * and farther from the median than three standard uncertainties of a difference of two readings on the balance for portions.
 *
 * @see Rosner 1983, Technometrics 25, 165
 */
export function fusionLosses({
  digestions,
  equipment,
}: Pick<StudyRecords, 'digestions' | 'equipment'>): FusionsOfCharge[] {
  const groups = new Map<string, FusionLoss[]>();
  const weighed = digestions.flatMap((row) => {
    const loss = lossOf(row);
    return loss === null ? [] : [{ row, loss }];
  });
  const times = (sample: string) => weighed.filter(({ row }) => row.sample === sample).length;
  for (const { row, loss } of weighed) {
    const others = row.kind === 'blank' ? 'other blanks' : 'other samples';
    const charge = times(row.sample) >= leastFusions ? row.sample : others;
    groups.set(charge, [...(groups.get(charge) ?? []), loss]);
  }
  const leastOf = (digestion: string) =>
    weighingOf(digestions.find((d) => d.digestion === digestion)!.portionBalance, equipment);
  return [...groups].map(([charge, losses]) => {
    const medianPercent = median(losses.map((l) => l.lossPercent));
    const outlying = losses.length < leastFusions ? null : outlyingOf(losses, medianPercent, leastOf);
    return { charge, losses, medianPercent, outlying };
  });
}

/** Where all lost the same to the last digit but one, that digit is no outlier. */
function outlyingOf(
  losses: readonly FusionLoss[],
  medianPercent: number,
  leastOf: (digestion: string) => number,
): string[] {
  const percents = losses.map((l) => l.lossPercent);
  return generalisedEsd(percents, Math.floor(losses.length / 5), fusionLevel)
    .outliers.map((i) => losses[i]!)
    .filter(({ digestion, lossG, portionAndFluxG }) => {
      const expectedG = (medianPercent / 100) * portionAndFluxG;
      return Math.abs(lossG - expectedG) > leastOf(digestion);
    })
    .map(({ digestion }) => digestion);
}

/** Three standard uncertainties of a difference of two readings, g; 0 where the register has no such balance. */
function weighingOf(balance: string, equipment: readonly EquipmentRecord[]): number {
  const specification = equipment.find((e) => e.id === balance)?.balance;
  if (specification === undefined) return 0;
  const { rep, round } = readingErrorUncertainties(specification, 0);
  return 3 * Math.SQRT2 * Math.hypot(rep, round);
}

function lossOf(row: DigestionRecord): FusionLoss | null {
  const { digestion, crucibleG, crucibleWithPortionG, fluxG, crucibleWithMeltG } = row;
  if (crucibleWithMeltG === null) return null;
  const portionAndFluxG = asWeighed(crucibleWithPortionG - crucibleG + fluxG);
  const lossG = asWeighed(crucibleWithPortionG + fluxG - crucibleWithMeltG);
  return { digestion, portionAndFluxG, lossG, lossPercent: (100 * lossG) / portionAndFluxG };
}

/** To 0.1 µg: equal losses of crucibles of different mass must not differ in the last bits. */
function asWeighed(massG: number): number {
  return Math.round(1e7 * massG) / 1e7;
}
