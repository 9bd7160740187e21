import { nextBits } from '../../random-stream.js';
import { nextUniform, trialsPerBlock } from './block-stream.js';

/** Layers of equal area that a density is cut into. */
export const layers = 256;

/** A density symmetric about 0 and falling from there, cut into layers; its value at 0 is 1. */
export interface Ziggurat {
  /** From the base to the top: `edges[0]` is the width of the base with the tail's area, `edges[256]` is 0. */
  readonly edges: Float64Array;
  /** Factor from a signed 53-bit number to a deviate of the layer. */
  readonly widths: Float64Array;
  /** The density at the edges. */
  readonly heights: Float64Array;
  readonly density: (x: number) => number;
  /** A deviate given that it lies beyond `edges[1]`. */
  readonly beyond: (state: Uint32Array) => number;
}

/**
 * Cuts a density into layers.
 *
 * @param tailStart where the tail begins: the edge for which the layers come out equal
 * @param tailArea area under the density from there on
 * @param inverse the x ≥ 0 at which the density has a value
 */
export function cutIntoLayers(
  density: (x: number) => number,
  inverse: (height: number) => number,
  tailStart: number,
  tailArea: number,
): Pick<Ziggurat, 'edges' | 'widths' | 'heights'> {
  const edges = new Float64Array(layers + 1);
  const area = tailStart * density(tailStart) + tailArea;
  edges[0] = area / density(tailStart);
  edges[1] = tailStart;
  for (let layer = 2; layer < layers; layer++) {
    const below = edges[layer - 1]!;
    edges[layer] = inverse(area / below + density(below));
  }
  const heights = edges.map((edge, layer) => (layer === layers ? 1 : density(edge)));
  return { edges, widths: edges.slice(0, layers).map((edge) => edge / 2 ** 52), heights };
}

/** Position and layer, in one number, of each deviate that is not sure, and the deviate. */
let places = new Int32Array(trialsPerBlock);
let proposals = new Float64Array(trialsPerBlock);

/**
 * Fills a block with centre + factor·x, x from the density of a ziggurat; signed 53-bit numbers.
 *
 * @param s state of xoshiro128**, moved on
 * @see Marsaglia and Tsang 2000, Journal of Statistical Software 5(8); Doornik 2005 (layer and deviate from separate bits)
 */
export function fillFrom(
  ziggurat: Ziggurat,
  s: Uint32Array,
  out: Float64Array,
  centre: number,
  factor: number,
): void {
  if (out.length > places.length) {
    places = new Int32Array(out.length);
    proposals = new Float64Array(out.length);
  }
  const { edges, widths } = ziggurat;
  const count = propose(s, out, centre, factor, edges, widths, places, proposals);
  for (let j = 0; j < count; j++) {
    out[places[j]! >> 8] = centre + factor * decide(ziggurat, s, proposals[j]!, places[j]! & 255);
  }
}

/** The loop stands alone: with the rare cases beside it the compiler gives it up again and again. */
function propose(
  s: Uint32Array,
  out: Float64Array,
  centre: number,
  factor: number,
  edges: Float64Array,
  widths: Float64Array,
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
export function decide(ziggurat: Ziggurat, s: Uint32Array, proposed: number, proposedLayer: number): number {
  const { edges, widths, heights, density } = ziggurat;
  let deviate = proposed;
  let layer = proposedLayer;
  for (;;) {
    if (Math.abs(deviate) < edges[layer + 1]!) return deviate;
    if (layer === 0) return deviate < 0 ? -ziggurat.beyond(s) : ziggurat.beyond(s);
    const height = heights[layer]! + nextUniform(s) * (heights[layer + 1]! - heights[layer]!);
    if (height < density(deviate)) return deviate;
    const high = nextBits(s) | 0;
    const low = nextBits(s);
    layer = low & 255;
    deviate = (high * 2097152 + (low >>> 11)) * widths[layer]!;
  }
}

/** One deviate from the density of a ziggurat. */
export function nextFrom(ziggurat: Ziggurat, s: Uint32Array): number {
  const high = nextBits(s) | 0;
  const low = nextBits(s);
  const layer = low & 255;
  return decide(ziggurat, s, (high * 2097152 + (low >>> 11)) * ziggurat.widths[layer]!, layer);
}
