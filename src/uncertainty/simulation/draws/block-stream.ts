import { nextBits, streamState } from '../../random-stream.js';

/** Trials in a block: the sequences of 10⁴ trials of JCGM 101:2008, 7.9.4, are five of them. */
export const trialsPerBlock = 2000;

/** Which stream the draws of a quantity come from. */
export type StreamKey = Uint32Array;

/**
 * Key of the draws of one quantity. It holds the quantity's name and not its place, so that two models with the same
 * input and seed draw the same values for it.
 */
export function streamKey(seed: number, ...labels: readonly (string | number)[]): Uint32Array {
  return streamState(seed, 'simulation', ...labels);
}

/** Odd numbers, so that no two blocks share a word of their states. */
const strides = [0x9e3779b1, 0x85ebca77, 0xc2b2ae3d, 0x27d4eb2f];

/** Sets the state of the stream of one block: no block depends on those before it. */
export function startBlock(key: Uint32Array, block: number, state: Uint32Array): void {
  for (let word = 0; word < 4; word++) {
    let h = key[word]! ^ Math.imul(block + 1, strides[word]!);
    h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
    h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
    state[word] = h ^ (h >>> 16);
  }
  if (state[0] === 0 && state[1] === 0 && state[2] === 0 && state[3] === 0) state[0] = 1;
}

/** One uniform number on (0, 1), 53 bits. */
export function nextUniform(state: Uint32Array): number {
  const high = nextBits(state);
  return (high * 2097152 + (nextBits(state) >>> 11) + 0.5) / 9007199254740992;
}
