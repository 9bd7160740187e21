import { InputError, requireInteger, requirePositive } from '../errors.js';

/** Switches of the invented study. */
export interface ZirconPigmentOptions {
  /** Whole number of at least 0; draws every error. */
  readonly seed: number;
  /** Zirconium disturbs the reported aluminium line (default true). */
  readonly overlap?: boolean;
  /** Procedure blanks whose calcium is usable: 4 (a contaminated scoop spoilt 8, recorded) or 12 (default 4). */
  readonly calciumBlanksUsable?: 4 | 12;
  /** Repeatability of the new balance against the old one (default factor 1: a swap that changes nothing). */
  readonly newBalance?: { readonly repeatabilityFactor: number };
  /** Control results after each change of equipment, 0 to 30 (default 30). */
  readonly controlResultsAfter?: number;
}

/** The switches with their defaults filled in. */
export interface ScenarioSwitches {
  readonly seed: number;
  readonly overlap: boolean;
  readonly calciumBlanksUsable: 4 | 12;
  readonly repeatabilityFactor: number;
  readonly controlResultsAfter: number;
}

/** @throws InputError a switch out of its range */
export function scenarioSwitches(options: ZirconPigmentOptions): ScenarioSwitches {
  const { seed, overlap = true, calciumBlanksUsable = 4, controlResultsAfter = 30 } = options;
  const repeatabilityFactor = options.newBalance?.repeatabilityFactor ?? 1;
  requireInteger(seed, 'seed', 0);
  requireInteger(controlResultsAfter, 'control results after a change', 0, 30);
  requirePositive(repeatabilityFactor, 'repeatability factor of the new balance');
  if (calciumBlanksUsable !== 4 && calciumBlanksUsable !== 12) {
    throw new InputError(`usable calcium blanks: found ${calciumBlanksUsable}, expected 4 or 12`);
  }
  return { seed, overlap, calciumBlanksUsable, repeatabilityFactor, controlResultsAfter };
}
