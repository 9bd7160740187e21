import { InputError, requireFinite, requireSameLength } from '../errors.js';

/** Drift of the signal ratio at one place of the sequence, relative to the first check solution. */
export interface DriftFactor {
  readonly factor: number;
  readonly standardUncertainty: number;
  /** Weight of the later of the two neighbouring checks, 0 to 1. */
  readonly weight: number;
  /** Zero-based index of the earlier and the later check used. */
  readonly checks: readonly [number, number];
}

/**
 * Drift factor of the signal ratio by linear interpolation between check solutions, 1 at the first check.
 *
 * @param positions places of the check solutions in the sequence, increasing
 * @param ratios mean signal ratio of each check
 * @param standardUncertainty of one check's mean ratio
 * @param position place of the solution wanted; before the first or after the last check the nearest one holds
 * @throws InputError no check, lists of different length, places that do not increase, a ratio of 0 or less
 * @see common practice, no source
 * @example
 * driftFactor([8, 18], [0.5, 0.51], 0, 13).factor // => 1.01
 */
export function driftFactor(
  positions: readonly number[],
  ratios: readonly number[],
  standardUncertainty: number,
  position: number,
): DriftFactor {
  requireFinite(positions, 'places of the check solutions');
  requireFinite(ratios, 'signal ratios of the check solutions');
  requireSameLength(positions, 'places', ratios, 'signal ratios');
  for (let i = 0; i < ratios.length; i++) {
    if (ratios[i]! > 0) continue;
    throw new InputError(
      `signal ratio of the check solution at place ${positions[i]}: found ${ratios[i]}, expected above 0`,
    );
  }
  for (let i = 1; i < positions.length; i++) {
    if (!(positions[i]! > positions[i - 1]!)) {
      throw new InputError(
        `places of the check solutions: found ${positions[i]} after ${positions[i - 1]}, expected increasing`,
      );
    }
  }
  return driftBetween(ratios, neighbouringChecks(positions, position), standardUncertainty);
}

/** The check solutions next to a place of the sequence: indices, and the weight of the later one. */
export interface NeighbouringChecks {
  readonly from: number;
  readonly to: number;
  readonly weight: number;
}

/** @param positions places of the check solutions, increasing */
export function neighbouringChecks(positions: readonly number[], position: number): NeighbouringChecks {
  let later = 0;
  while (later < positions.length && positions[later]! < position) later++;
  const isAfterAll = later === positions.length;
  const to = isAfterAll ? later - 1 : later;
  const from = isAfterAll ? to : Math.max(0, to - 1);
  const span = positions[to]! - positions[from]!;
  return { from, to, weight: span === 0 ? 1 : (position - positions[from]!) / span };
}

/** Drift factor between two checks: see `driftFactor`, which also looks at what it is given. */
export function driftBetween(
  ratios: readonly number[],
  { from, to, weight }: NeighbouringChecks,
  standardUncertainty: number,
): DriftFactor {
  const first = ratios[0]!;
  const factor = ((1 - weight) * ratios[from]! + weight * ratios[to]!) / first;
  // d(factor)/d(ratio) of the three checks involved; the first may be one of the two neighbours, and they may be one.
  const ofTo = (weight + (from === to ? 1 - weight : 0) - (to === 0 ? factor : 0)) / first;
  const ofFrom = from === to ? 0 : (1 - weight - (from === 0 ? factor : 0)) / first;
  const ofFirst = from === 0 || to === 0 ? 0 : -factor / first;
  const length = Math.sqrt(ofFrom * ofFrom + ofTo * ofTo + ofFirst * ofFirst);
  return { factor, standardUncertainty: standardUncertainty * length, weight, checks: [from, to] };
}
