import { names } from '../design/components.js';
import type { ScheduledDigestion } from '../digestion-schedule.js';

/** Days on which the routine digestions were fused; the second one is the day of the run. */
export const routineDays = ['2026-04-13', '2026-04-14'] as const;

/** Days as the generator counts them, far from those of the validation: their errors are drawn anew. */
const firstDayNumber = 101;

export const samplesOfRun = 40;

/** Samples digested twice: what their pairs differ by is held against the duplicate limit. */
export const duplicated: readonly string[] = ['RS-05', 'RS-25'];

/** Name of a routine sample, from 1. */
export function routineSample(number: number): string {
  return `RS-${String(number).padStart(2, '0')}`;
}

/** Digestions of the routine run in order of work: forty samples, two of them twice, four blanks, a reference material twice. */
export function routineSchedule(): ScheduledDigestion[] {
  const half = samplesOfRun / 2;
  return routineDays.flatMap((date, dayIndex) => {
    const samples = Array.from({ length: half }, (_, i) => routineSample(dayIndex * half + i + 1));
    const work = [
      names.procedureBlank,
      ...samples.flatMap((sample) => (duplicated.includes(sample) ? [sample, sample] : [sample])),
      'QRM-1',
      names.procedureBlank,
    ];
    return work.map((sample, place): ScheduledDigestion => {
      const blank = sample === names.procedureBlank;
      return {
        sample,
        kind: blank ? 'blank' : sample === 'QRM-1' ? 'reference' : 'sample',
        day: firstDayNumber + dayIndex,
        crucible: blank ? 'Pt-06' : `Pt-${String((place % 8) + 11)}`,
        spikeStage: null,
        digestion: `D-${String(301 + dayIndex * 100 + place)}`,
        order: place + 1,
        date,
        blankNumber: null,
      };
    });
  });
}
