/**
 * Fills a block with uniform numbers on (centre − halfWidth, centre + halfWidth), 53 bits each.
 *
 * @param s state of xoshiro128**, moved on
 * @example
 * fillSymmetric(streamKey(1, 'x'), new Float64Array(2)) // => undefined
 */
export function fillSymmetric(s: Uint32Array, out: Float64Array, centre = 0, halfWidth = 1): void {
  const unit = halfWidth / 4503599627370496;
  let s0 = s[0]! | 0;
  let s1 = s[1]! | 0;
  let s2 = s[2]! | 0;
  let s3 = s[3]! | 0;
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
    out[i] = centre + (high * 2097152 + (low >>> 11) + 0.5) * unit;
  }
  s[0] = s0;
  s[1] = s1;
  s[2] = s2;
  s[3] = s3;
}
