import { randomStream } from '../uncertainty/random-stream.js';

/** Labels of a stream: table, row, purpose. One stream a draw, so that a new table shifts no other. */
export type DrawLabels = readonly (string | number)[];

/** One normal error of mean 0. */
export function drawNormal(seed: number, standardUncertainty: number, labels: DrawLabels): number {
  return standardUncertainty * randomStream(seed, ...labels).normal();
}

/** One rectangular error in ±`halfWidth`. */
export function drawRectangular(seed: number, halfWidth: number, labels: DrawLabels): number {
  return halfWidth * (2 * randomStream(seed, ...labels).uniform() - 1);
}

/** One triangular error in ±`halfWidth`. */
export function drawTriangular(seed: number, halfWidth: number, labels: DrawLabels): number {
  const stream = randomStream(seed, ...labels);
  return halfWidth * (stream.uniform() + stream.uniform() - 1);
}

/** One error of the stated distribution and standard uncertainty. */
export function drawStated(
  seed: number,
  distribution: 'normal' | 'rectangular' | 'triangular',
  standardUncertainty: number,
  labels: DrawLabels,
): number {
  if (distribution === 'normal') return drawNormal(seed, standardUncertainty, labels);
  return distribution === 'rectangular'
    ? drawRectangular(seed, standardUncertainty * Math.sqrt(3), labels)
    : drawTriangular(seed, standardUncertainty * Math.sqrt(6), labels);
}

/** `values` in an order drawn from the seed. */
export function drawOrder<T>(seed: number, values: readonly T[], labels: DrawLabels): T[] {
  const stream = randomStream(seed, ...labels);
  const shuffled = [...values];
  for (let i = shuffled.length - 1; i > 0; i--) {
    const j = Math.floor(stream.uniform() * (i + 1));
    const kept = shuffled[i]!;
    shuffled[i] = shuffled[j]!;
    shuffled[j] = kept;
  }
  return shuffled;
}
