import { requireInteger, requirePositive } from '../../errors.js';

/** Digestions of a plan by their use, and what the laboratory can do. */
export interface PlanWork {
  readonly days: number;
  readonly levels: number;
  readonly digestionsPerDay: number;
  readonly referenceDigestions: number;
  readonly spikes: number;
  readonly blanks: number;
  readonly otherDigestions: number;
  readonly readingsPerDigestion: number;
  /** Fusion of one crucible, and crucibles fused at once. */
  readonly minutesPerFusion: number;
  readonly cruciblesAtOnce: number;
  readonly digestionsADay: number;
}

/** What a plan costs. */
export interface PlanCost {
  readonly digestions: number;
  readonly furnaceHours: number;
  readonly calibrations: number;
  readonly readings: number;
  /** Largest number of digestions that one day has to bear if the work is spread evenly, and whether the laboratory can. */
  readonly digestionsOfADay: number;
  readonly fits: boolean;
}

/**
 * Work that a plan costs: digestions, furnace hours, one calibration a day, readings.
 *
 * @throws InputError a number that cannot be
 * @example
 * costOfPlan({ days: 10, levels: 3, digestionsPerDay: 2, referenceDigestions: 20, spikes: 12, blanks: 12, otherDigestions: 6, readingsPerDigestion: 3, minutesPerFusion: 16, cruciblesAtOnce: 1, digestionsADay: 40 }).digestions // => 110
 */
export function costOfPlan(work: PlanWork): PlanCost {
  requireInteger(work.days, 'days', 1);
  for (const name of [
    'levels',
    'digestionsPerDay',
    'referenceDigestions',
    'spikes',
    'blanks',
    'otherDigestions',
  ] as const) {
    requireInteger(work[name], name, 0);
  }
  requireInteger(work.readingsPerDigestion, 'readings of a digestion', 1);
  requirePositive(work.minutesPerFusion, 'minutes of a fusion');
  requireInteger(work.cruciblesAtOnce, 'crucibles at once', 1);
  requireInteger(work.digestionsADay, 'digestions a day', 1);
  const digestions =
    work.days * work.levels * work.digestionsPerDay +
    work.referenceDigestions +
    work.spikes +
    work.blanks +
    work.otherDigestions;
  const digestionsOfADay = Math.ceil(digestions / work.days);
  return {
    digestions,
    furnaceHours: (Math.ceil(digestions / work.cruciblesAtOnce) * work.minutesPerFusion) / 60,
    calibrations: work.days,
    readings: digestions * work.readingsPerDigestion,
    digestionsOfADay,
    fits: digestionsOfADay <= work.digestionsADay,
  };
}
