import { TailMemory } from './sorted-tails.js';

/** Memory of a run: for its trials, and for the tails that its intervals are read from. */
export interface RunMemory {
  readonly values: SharedArrayBuffer;
  readonly tails: TailMemory;
}

/** Memory of the last simulation, kept a while: to get fresh pages for it takes as long as to evaluate a model. */
let kept: RunMemory | null = null;
let release: NodeJS.Timeout | null = null;

const keptMilliseconds = 5000;
const keptBytesAtMost = 128e6;

/** Memory for at least so many bytes of values, with any contents. */
export function borrowMemory(bytes: number): RunMemory {
  const found = kept;
  kept = null;
  return found !== null && found.values.byteLength >= bytes
    ? found
    : { values: new SharedArrayBuffer(bytes), tails: new TailMemory() };
}

/** Gives memory back that nobody reads or writes any more. */
export function returnMemory(memory: RunMemory): void {
  if (memory.values.byteLength > keptBytesAtMost) return;
  if (kept === null || kept.values.byteLength < memory.values.byteLength) kept = memory;
  if (release !== null) clearTimeout(release);
  release = setTimeout(() => {
    kept = null;
    release = null;
  }, keptMilliseconds);
  release.unref();
}
