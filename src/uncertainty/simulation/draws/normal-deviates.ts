import { nextUniform } from './block-stream.js';
import { cutIntoLayers, fillFrom, nextFrom, type Ziggurat } from './ziggurat.js';

/** Where the tail begins, and the area of each of the 256 layers, for exp(−x²/2). */
const tailStart = 3.6541528853610088;
const layerArea = 0.00492867323399141;

const density = (x: number): number => Math.exp(-0.5 * x * x);
const inverse = (height: number): number => Math.sqrt(-2 * Math.log(height));

/** The density exp(−x²/2). */
export const normalZiggurat: Ziggurat = {
  ...cutIntoLayers(density, inverse, tailStart, layerArea - tailStart * density(tailStart)),
  density,
  beyond: beyondTailStart,
};

/**
 * Fills a block with centre + factor·z of standard normal deviates z.
 *
 * @param s state of xoshiro128**, moved on
 * @example
 * fillNormal(streamKey(1, 'x'), new Float64Array(2)) // => undefined
 */
export function fillNormal(s: Uint32Array, out: Float64Array, centre = 0, factor = 1): void {
  fillFrom(normalZiggurat, s, out, centre, factor);
}

/** One standard normal deviate. */
export function nextNormal(s: Uint32Array): number {
  return nextFrom(normalZiggurat, s);
}

/** @see Marsaglia 1964, Technometrics 6, 101: a deviate given that it lies beyond a limit. */
function beyondTailStart(s: Uint32Array): number {
  for (;;) {
    const a = -Math.log(nextUniform(s)) / tailStart;
    const b = -Math.log(nextUniform(s));
    if (b + b >= a * a) return tailStart + a;
  }
}
