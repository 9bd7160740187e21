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
 * @throws InputError no check, lists of different length, places that do not increase, a first ratio of 0 or less
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
  const first = ratios[0]!;
  if (!(first > 0)) throw new InputError(`signal ratio of the first check: found ${first}, expected above 0`);
  for (let i = 1; i < positions.length; i++) {
    if (!(positions[i]! > positions[i - 1]!)) {
      throw new InputError(
        `places of the check solutions: found ${positions[i]} after ${positions[i - 1]}, expected increasing`,
      );
    }
  }
  const later = positions.findIndex((place) => place >= position);
  const to = later === -1 ? positions.length - 1 : later;
  const from = later === -1 ? to : Math.max(0, to - 1);
  const span = positions[to]! - positions[from]!;
  const weight = span === 0 ? 1 : (position - positions[from]!) / span;
  const factor = ((1 - weight) * ratios[from]! + weight * ratios[to]!) / first;
  // d(factor)/d(ratio) of the three checks involved; the first may be one of the two neighbours.
  const slopes = new Map<number, number>();
  const add = (check: number, slope: number) => slopes.set(check, (slopes.get(check) ?? 0) + slope);
  add(from, (1 - weight) / first);
  add(to, weight / first);
  add(0, -factor / first);
  const sum = [...slopes.values()].reduce((total, slope) => total + slope * slope, 0);
  return { factor, standardUncertainty: standardUncertainty * Math.sqrt(sum), weight, checks: [from, to] };
}
