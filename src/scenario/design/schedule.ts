import { dateAfter } from '../calendar.js';
import { names } from './components.js';

/** One digestion of the plan, before anything is weighed. `day` counts from 1. */
export interface PlannedDigestion {
  readonly sample: string;
  readonly kind: 'sample' | 'blank' | 'reference' | 'spike';
  readonly day: number;
  readonly crucible: string;
  readonly spikeStage: 'before fusion' | 'after dissolution' | null;
}

const firstDay = '2026-03-02';

/** ISO dates of the ten working days: two weeks, Monday to Friday, so that later runs re-read solutions after whole days. */
export const workingDays: readonly string[] = Array.from({ length: 10 }, (_, i) =>
  dateAfter(firstDay, i < 5 ? i : i + 2),
);

const daysWith = {
  secondProcedureBlank: [2, 7],
  memoryBlank: [2, 3, 4, 6, 7, 8, 9],
  spikeBeforeFusion: [1, 2, 4, 5, 7, 8],
  spikeAfterDissolution: [2, 3, 5, 6, 8, 9],
  nativeCheck: [10],
} as const;

/** Days whose run also reads the solution of the interferent alone. */
export const interferenceCheckDays: readonly number[] = [1, 3, 5, 6, 8, 10];

/**
 * Digestions of one day in groups that keep their order. Each material has a crucible of its own: what the crucible
 * keeps and gives back is then in balance, and memory shows only where a blank follows the iron-rich sample.
 */
export function plannedGroups(day: number): PlannedDigestion[][] {
  const one = (
    sample: PlannedDigestion['sample'],
    kind: PlannedDigestion['kind'],
    crucible: number,
    spikeStage: PlannedDigestion['spikeStage'] = null,
  ): PlannedDigestion => ({
    sample,
    kind,
    day,
    crucible: `Pt-${String(crucible).padStart(2, '0')}`,
    spikeStage,
  });
  const on = (days: readonly number[], ...group: PlannedDigestion[]) => (days.includes(day) ? [group] : []);
  return [
    [one('ZP-1', 'sample', 1)],
    [one('ZP-1', 'sample', 1)],
    [one('ZP-2', 'sample', 2)],
    [one('ZP-2', 'sample', 2)],
    [one('ZP-3', 'sample', 3)],
    [one('ZP-3', 'sample', 3)],
    [one('QRM-1', 'reference', 4)],
    [one('QRM-2', 'reference', 5)],
    [one(names.procedureBlank, 'blank', 6)],
    ...on(daysWith.secondProcedureBlank, one(names.procedureBlank, 'blank', 6)),
    ...on(daysWith.memoryBlank, one('ZP-5', 'sample', 10), one(names.memoryBlank, 'blank', 10)),
    ...on(daysWith.spikeBeforeFusion, one('ZP-2', 'spike', 7, 'before fusion')),
    ...on(daysWith.spikeAfterDissolution, one('ZP-2', 'spike', 8, 'after dissolution')),
    ...on(daysWith.nativeCheck, one('ZP-4', 'sample', 9)),
  ];
}

/**
 * Digestions that follow those of the day, in crucibles of their own: the third reference material, and the sample at
 * the limits of quantification.
 */
export function closingGroups(day: number): PlannedDigestion[] {
  const one = (sample: string, kind: PlannedDigestion['kind'], crucible: string): PlannedDigestion => ({
    ...{ sample, kind, day, crucible },
    spikeStage: null,
  });
  return [
    one('QRM-3', 'reference', 'Pt-11'),
    one(names.lowLevelSample, 'sample', 'Pt-12'),
    one(names.lowLevelSample, 'sample', 'Pt-12'),
  ];
}

/** The date on which the last day's digestions are read for native internal-standard element. */
export const nativeRunDay: string = dateAfter(firstDay, 14);
