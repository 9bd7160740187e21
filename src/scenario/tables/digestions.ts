import type { EquipmentRecord } from '../../records/study.js';
import type { DigestionRecord } from '../../records/tables/digestions.js';
import { type BalanceReader, idealIndication, type LoadKind } from '../balance-reading.js';
import { nominal } from '../design/components.js';
import type { DigestionContents } from '../digestion-contents.js';
import { drawNormal, drawRectangular } from '../draw.js';
import { dayErrors } from '../hidden-errors.js';
import { operators } from '../plan/study-plan.js';

/** The balances that weigh digestions. */
export interface Balances {
  readonly portion: BalanceReader;
  readonly vessel: BalanceReader;
}

/** Identifiers of those balances in the register. */
export const balanceIds = { portion: 'BAL-1', vessel: 'BAL-2' } as const satisfies Record<
  keyof Balances,
  EquipmentRecord['id']
>;

/** One row a digestion: every mass as the balance showed it in the air of the day. */
export function digestionRecord(
  seed: number,
  contents: DigestionContents,
  balances: Balances,
  portionDensity: number,
): DigestionRecord {
  const { scheduled, portionG } = contents;
  const { digestion, day, order } = scheduled;
  const readings = massReadings(seed, contents, balances, portionDensity);
  const densityError = drawNormal(seed, 0.0005, ['digestions', digestion, 'density']);
  return {
    digestion,
    order,
    sample: scheduled.sample,
    kind: scheduled.kind,
    day: scheduled.date,
    operator: operators[day % 2]!,
    place: `F2-${((order - 1) % 4) + 1}`,
    crucible: scheduled.crucible,
    portionBalance: balanceIds.portion,
    vesselBalance: balanceIds.vessel,
    ...readings,
    crucibleWithPortionG: portionG === 0 ? readings.crucibleG : readings.crucibleWithPortionG,
    crucibleWithMeltG: null,
    internalStandardG: null,
    densityGPerML: Number((nominal.solutionDensity / 1000 + densityError).toFixed(4)),
    melt: 'clear',
    solution: 'clear',
    remark: scheduled.spikeStage === null ? '' : `addition ${scheduled.spikeStage}`,
  };
}

type Masses = Pick<
  DigestionRecord,
  'crucibleG' | 'crucibleWithPortionG' | 'fluxG' | 'vesselEmptyG' | 'vesselWithSolutionAndCrucibleG' | 'acidG'
>;

function massReadings(
  seed: number,
  contents: DigestionContents,
  balances: Balances,
  portionDensity: number,
): Masses {
  const { scheduled, portionG, fluxG, solutionG } = contents;
  const { digestion, day } = scheduled;
  const air = dayErrors(seed, day).airDensity;
  const about = (massG: number, purpose: string, ...row: string[]) =>
    massG + drawRectangular(seed, 1, ['digestions', ...row, purpose]);
  const crucible = idealIndication(
    about(35, 'crucible mass', scheduled.crucible),
    nominal.crucibleDensity,
    air,
  );
  const portion = idealIndication(portionG, portionDensity, air);
  const vessel = idealIndication(about(65, 'vessel mass', digestion), nominal.vesselDensity, air);
  const solution = idealIndication(solutionG, nominal.solutionDensity, air);
  const read = (balance: BalanceReader, load: LoadKind, idealG: number) =>
    balance({ idealG, load, row: digestion, day });
  return {
    crucibleG: read(balances.portion, 'crucible', crucible),
    crucibleWithPortionG: read(balances.portion, 'crucible with portion', crucible + portion),
    fluxG: read(balances.vessel, 'flux', fluxG),
    vesselEmptyG: read(balances.vessel, 'vessel', vessel),
    vesselWithSolutionAndCrucibleG: read(
      balances.vessel,
      'vessel with solution and crucible',
      vessel + crucible + solution,
    ),
    acidG: read(balances.vessel, 'acid', about(nominal.acidG, 'acid mass', digestion)),
  };
}
