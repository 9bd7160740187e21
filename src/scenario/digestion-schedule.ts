import { names } from './design/components.js';
import { closingGroups, type PlannedDigestion, plannedGroups, workingDays } from './design/schedule.js';
import { drawOrder } from './draw.js';

/** A digestion in its place: named and ordered within its day. */
export interface ScheduledDigestion extends PlannedDigestion {
  readonly digestion: string;
  readonly order: number;
  /** ISO date. */
  readonly date: string;
  /** Count of earlier procedure blanks; null for other digestions. */
  readonly blankNumber: number | null;
}

/**
 * All digestions in the order of work: within a day drawn from the seed, groups kept together; those that close a day
 * have a series of their own.
 */
export function digestionSchedule(seed: number): ScheduledDigestion[] {
  const scheduled: ScheduledDigestion[] = [];
  let [blanks, main, closing] = [0, 0, 0];
  workingDays.forEach((date, index) => {
    const day = index + 1;
    const groups = drawOrder(seed, plannedGroups(day), ['digestions', `day ${day}`, 'order']).flat();
    const planned = [
      ...groups.map((each) => ({ ...each, digestion: numbered('D', ++main) })),
      ...closingGroups(day).map((each) => ({ ...each, digestion: numbered('E', ++closing) })),
    ];
    planned.forEach((each, place) => {
      const blankNumber = each.sample === names.procedureBlank ? blanks++ : null;
      scheduled.push({ ...each, order: place + 1, date, blankNumber });
    });
  });
  return scheduled;
}

function numbered(series: string, number: number): string {
  return `${series}-${String(number).padStart(3, '0')}`;
}

/** Blanks whose flux was taken with the contaminated scoop, by their count: all but the first four. */
export function scoopSpoilt(digestion: ScheduledDigestion, calciumBlanksUsable: 4 | 12): boolean {
  return digestion.blankNumber !== null && digestion.blankNumber >= calciumBlanksUsable;
}

/** Unspiked digestions of the same sample and day. */
export function partnersOf(
  spiked: ScheduledDigestion,
  all: readonly ScheduledDigestion[],
): ScheduledDigestion[] {
  return all.filter((d) => d.sample === spiked.sample && d.day === spiked.day && d.spikeStage === null);
}
