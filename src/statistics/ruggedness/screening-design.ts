import { InputError } from '../../errors.js';

/** A two-level screening design: which factor stands high (+1) or low (−1) in which run. */
export interface ScreeningDesign {
  readonly names: readonly string[];
  /** One row a run, one entry a column of `names`: +1 or −1. */
  readonly levels: readonly (readonly (1 | -1)[])[];
  /** Columns that carry no factor: their effects show the error. */
  readonly dummies: readonly string[];
  readonly runs: number;
  readonly method: string;
  readonly notes: readonly string[];
}

const generators = {
  8: [1, 1, 1, -1, 1, -1, -1],
  12: [1, 1, -1, 1, 1, 1, -1, -1, -1, 1, -1],
} as const;

/**
 * Plackett–Burman design for a ruggedness test: up to 7 factors in 8 runs (Youden's design up to the order of runs), up to
 * 11 in 12 runs.
 *
 * Main effects are clear of each other but mixed with interactions of two factors: right for showing that nothing
 * matters, not for finding out how factors work together. Columns without a factor become dummies. Carry the runs out in
 * random order.
 *
 * @param factors names, all different
 * @param runs 8 or 12
 * @throws InputError no factor, too many factors, equal names, another number of runs
 * @see Plackett and Burman 1946, Biometrika 33, 305; ASTM E1169 (ruggedness tests)
 * @example
 * screeningDesign(['flux mass', 'fusion time', 'acid'], 8).dummies.length // => 4
 */
export function screeningDesign(factors: readonly string[], runs: 8 | 12): ScreeningDesign {
  const generator = generators[runs] as readonly (1 | -1)[] | undefined;
  if (!generator) throw new InputError(`runs: found ${runs}, expected 8 or 12`);
  if (factors.length === 0 || factors.length > runs - 1) {
    throw new InputError(`factors: found ${factors.length}, expected 1 to ${runs - 1} in ${runs} runs`);
  }
  if (new Set(factors).size < factors.length) throw new InputError('factors: found two of one name');
  const columns = runs - 1;
  const dummies = Array.from({ length: columns - factors.length }, (_, k) => `dummy ${k + 1}`);
  const levels = Array.from({ length: columns }, (_, run) =>
    Array.from({ length: columns }, (__, column) => generator[(column - run + columns) % columns]!),
  );
  return {
    names: [...factors, ...dummies],
    levels: [...levels, new Array<-1>(columns).fill(-1)],
    dummies,
    runs,
    method: `Plackett–Burman design of ${runs} runs`,
    notes: ['Main effects are mixed with interactions of two factors.'],
  };
}
