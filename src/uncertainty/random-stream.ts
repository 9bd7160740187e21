import { requireInteger } from '../errors.js';

/**
 * A seeded stream of pseudo-random numbers: xoshiro128** (Blackman and Vigna 2021, ACM TOMS 47, 36), its state hashed
 * from a seed and labels, so that streams of different labels are independent of each other and of the order of use.
 *
 * @example
 * randomStream(7, 'portion').uniform() === randomStream(7, 'portion').uniform() // => true
 */
export class RandomStream {
  readonly #state: Uint32Array;
  #spare: number | null = null;

  constructor(state: Uint32Array) {
    this.#state = state;
  }

  /** Next 32 bits. */
  bits(): number {
    return nextBits(this.#state);
  }

  /** Uniform on (0, 1), 53 bits, never 0. */
  uniform(): number {
    const high = this.bits();
    return (high * 2097152 + (this.bits() >>> 11) + 0.5) / 9007199254740992;
  }

  /** Standard normal deviate, by Marsaglia's polar method. */
  normal(): number {
    if (this.#spare !== null) {
      const spare = this.#spare;
      this.#spare = null;
      return spare;
    }
    for (;;) {
      const u = 2 * this.uniform() - 1;
      const v = 2 * this.uniform() - 1;
      const s = u * u + v * v;
      if (s < 1 && s > 0) {
        const factor = Math.sqrt((-2 * Math.log(s)) / s);
        this.#spare = v * factor;
        return u * factor;
      }
    }
  }
}

/** @throws InputError seed not a whole number of at least 0 */
export function randomStream(seed: number, ...labels: readonly (string | number)[]): RandomStream {
  return new RandomStream(streamState(seed, ...labels));
}

/** Next 32 bits of xoshiro128**; moves the state of four words on. */
export function nextBits(s: Uint32Array): number {
  const x = Math.imul(s[1]!, 5);
  const result = Math.imul((x << 7) | (x >>> 25), 9) >>> 0;
  const t = s[1]! << 9;
  s[2]! ^= s[0]!;
  s[3]! ^= s[1]!;
  s[1]! ^= s[2]!;
  s[0]! ^= s[3]!;
  s[2]! ^= t;
  s[3] = (s[3]! << 11) | (s[3]! >>> 21);
  return result;
}

/**
 * State of the stream of a seed and labels.
 *
 * @throws InputError seed not a whole number of at least 0
 */
export function streamState(seed: number, ...labels: readonly (string | number)[]): Uint32Array {
  requireInteger(seed, 'seed', 0);
  const text = `${seed}|${labels.join('|')}`;
  const state = new Uint32Array(4);
  for (let word = 0; word < 4; word++) {
    let h = Math.imul(word + 1, 0x9e3779b9) ^ text.length;
    for (let i = 0; i < text.length; i++) {
      h = Math.imul(h ^ text.charCodeAt(i), 0xcc9e2d51);
      h = Math.imul((h << 15) | (h >>> 17), 0x1b873593);
    }
    h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
    h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
    state[word] = (h ^ (h >>> 16)) >>> 0;
  }
  if (state.every((s) => s === 0)) state[0] = 1;
  return state;
}
