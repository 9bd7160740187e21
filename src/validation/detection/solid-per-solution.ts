import { InputError, requirePositive } from '../../errors.js';

/** Nominal masses that carry a content in the solution measured to the solid. */
export interface SolutionToSolid {
  /** Further dilution after dissolution; 1 where there is none. */
  readonly furtherDilution: number;
  readonly solutionG: number;
  readonly portionG: number;
  /** Moisture (or loss on ignition) as a fraction of 1. */
  readonly moisture: number;
  readonly recovery: number;
}

/**
 * Mass fraction in the solid per mass fraction in the solution measured: F·m_s/(m_p·(1 − moisture)·R).
 *
 * @throws InputError a mass, dilution or recovery not above 0, a moisture outside 0 to 1
 * @example
 * solidPerSolution({ furtherDilution: 1, solutionG: 100, portionG: 0.2, moisture: 0, recovery: 1 }) // => 500
 */
export function solidPerSolution(nominal: SolutionToSolid): number {
  requirePositive(nominal.furtherDilution, 'further dilution');
  requirePositive(nominal.solutionG, 'mass of the solution');
  requirePositive(nominal.portionG, 'mass of the portion');
  requirePositive(nominal.recovery, 'recovery');
  if (!(nominal.moisture >= 0 && nominal.moisture < 1)) {
    throw new InputError(`moisture: found ${nominal.moisture}, expected a fraction from 0 to below 1`);
  }
  return (
    (nominal.furtherDilution * nominal.solutionG) /
    (nominal.portionG * (1 - nominal.moisture) * nominal.recovery)
  );
}
