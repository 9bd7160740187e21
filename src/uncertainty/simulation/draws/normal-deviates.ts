import { nextBits } from '../../random-stream.js';
import { nextUniform, trialsPerBlock } from './block-stream.js';

/** Where the tail begins, and the area of each of the 256 layers. */
const tailStart = 3.6541528853610088;
const layerArea = 0.00492867323399141;

/** Edges of the layers, from the base to the top; `edges[0]` is the width of the base with the tail's area. */
const edges = new Float64Array(257);
/** Factor from a signed 53-bit number to a deviate of the layer. */
const widths = new Float64Array(256);
/** exp(−x²/2) at the edges. */
const heights = new Float64Array(257);

edges[0] = layerArea / Math.exp(-0.5 * tailStart * tailStart);
edges[1] = tailStart;
for (let layer = 2; layer < 256; layer++) {
  const below = edges[layer - 1]!;
  edges[layer] = Math.sqrt(-2 * Math.log(layerArea / below + Math.exp(-0.5 * below * below)));
}
for (let layer = 0; layer < 256; layer++) {
  widths[layer] = edges[layer]! / 4503599627370496;
  heights[layer] = Math.exp(-0.5 * edges[layer]! * edges[layer]!);
}
heights[256] = 1;

/** Position and layer, in one number, of each deviate that is not sure, and the deviate. */
let places = new Int32Array(trialsPerBlock);
let proposals = new Float64Array(trialsPerBlock);

/**
 * Fills a block with centre + factor·z of standard normal deviates z, by the ziggurat method with 256 layers and signed
 * 53-bit numbers.
 *
 * @param s state of xoshiro128**, moved on
 * @see Marsaglia and Tsang 2000, Journal of Statistical Software 5(8); Doornik 2005 (layer and deviate from separate bits)
 * @example
 * fillNormal(streamKey(1, 'x'), new Float64Array(2)) // => undefined
 */
export function fillNormal(s: Uint32Array, out: Float64Array, centre = 0, factor = 1): void {
  if (out.length > places.length) {
    places = new Int32Array(out.length);
    proposals = new Float64Array(out.length);
  }
  const count = propose(s, out, centre, factor, places, proposals);
  for (let j = 0; j < count; j++) {
    out[places[j]! >> 8] = centre + factor * decide(s, proposals[j]!, places[j]! & 255);
  }
}

/** The loop stands alone: with the rare cases beside it the compiler gives it up again and again. */
function propose(
  s: Uint32Array,
  out: Float64Array,
  centre: number,
  factor: number,
  open: Int32Array,
  proposed: Float64Array,
): number {
  let s0 = s[0]! | 0;
  let s1 = s[1]! | 0;
  let s2 = s[2]! | 0;
  let s3 = s[3]! | 0;
  let count = 0;
  for (let i = 0; i < out.length; i++) {
    let x = Math.imul(s1, 5);
    const high = Math.imul((x << 7) | (x >>> 25), 9);
    let t = s1 << 9;
    s2 ^= s0;
    s3 ^= s1;
    s1 ^= s2;
    s0 ^= s3;
    s2 ^= t;
    s3 = (s3 << 11) | (s3 >>> 21);
    x = Math.imul(s1, 5);
    const low = Math.imul((x << 7) | (x >>> 25), 9);
    t = s1 << 9;
    s2 ^= s0;
    s3 ^= s1;
    s1 ^= s2;
    s0 ^= s3;
    s2 ^= t;
    s3 = (s3 << 11) | (s3 >>> 21);
    const layer = low & 255;
    const deviate = (high * 2097152 + (low >>> 11)) * widths[layer]!;
    out[i] = centre + factor * deviate;
    if (Math.abs(deviate) >= edges[layer + 1]!) {
      proposed[count] = deviate;
      open[count++] = (i << 8) | layer;
    }
  }
  s[0] = s0;
  s[1] = s1;
  s[2] = s2;
  s[3] = s3;
  return count;
}

/** A proposal outside the sure part of its layer: kept, replaced by one from the tail, or drawn anew. */
function decide(s: Uint32Array, proposed: number, proposedLayer: number): number {
  let deviate = proposed;
  let layer = proposedLayer;
  for (;;) {
    if (Math.abs(deviate) < edges[layer + 1]!) return deviate;
    if (layer === 0) return deviate < 0 ? -beyondTailStart(s) : beyondTailStart(s);
    const height = heights[layer]! + nextUniform(s) * (heights[layer + 1]! - heights[layer]!);
    if (height < Math.exp(-0.5 * deviate * deviate)) return deviate;
    deviate = nextProposal(s);
    layer = lastLayer;
  }
}

let lastLayer = 0;

function nextProposal(s: Uint32Array): number {
  const high = nextBits(s) | 0;
  const low = nextBits(s);
  lastLayer = low & 255;
  return (high * 2097152 + (low >>> 11)) * widths[lastLayer]!;
}

/** @see Marsaglia 1964, Technometrics 6, 101: a deviate given that it lies beyond a limit. */
function beyondTailStart(s: Uint32Array): number {
  for (;;) {
    const a = -Math.log(nextUniform(s)) / tailStart;
    const b = -Math.log(nextUniform(s));
    if (b + b >= a * a) return tailStart + a;
  }
}

/** One standard normal deviate. */
export function nextNormal(s: Uint32Array): number {
  const deviate = nextProposal(s);
  return decide(s, deviate, lastLayer);
}
