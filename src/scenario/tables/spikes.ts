import type { SpikeRecord } from '../../records/tables/spikes.js';
import { analyteDesigns, analyteNames } from '../design/analytes.js';
import { nominal } from '../design/components.js';
import { partnersOf, type ScheduledDigestion } from '../digestion-schedule.js';

/** Additions to spiked digestions, as recorded: one row an analyte. */
export function spikeRecords(schedule: readonly ScheduledDigestion[]): SpikeRecord[] {
  return schedule.flatMap((spiked) => {
    const { spikeStage: stage, digestion } = spiked;
    if (stage === null) return [];
    const unspikedPartner = partnersOf(spiked, schedule)
      .map((partner) => partner.digestion)
      .join('|');
    return analyteNames
      .filter((analyte) => analyteDesigns[analyte].spikeMg > 0)
      .map((analyte) => {
        const addedMg = analyteDesigns[analyte].spikeMg;
        const standardUncertaintyMg = Number((addedMg * nominal.spikeRelativeU).toPrecision(3));
        return { digestion, unspikedPartner, stage, analyte, addedMg, standardUncertaintyMg };
      });
  });
}
