/** Memory of the last simulation, kept a while: to get fresh pages for it takes as long as to evaluate a model. */
let kept: SharedArrayBuffer | null = null;
let release: NodeJS.Timeout | null = null;

const keptMilliseconds = 5000;
const keptBytesAtMost = 128e6;

/** Memory of at least so many bytes, with any contents. */
export function borrowValues(bytes: number): SharedArrayBuffer {
  const found = kept;
  kept = null;
  return found !== null && found.byteLength >= bytes ? found : new SharedArrayBuffer(bytes);
}

/** Gives memory back that nobody reads or writes any more. */
export function returnValues(memory: SharedArrayBuffer): void {
  if (memory.byteLength > keptBytesAtMost) return;
  if (kept === null || kept.byteLength < memory.byteLength) kept = memory;
  if (release !== null) clearTimeout(release);
  release = setTimeout(() => {
    kept = null;
    release = null;
  }, keptMilliseconds);
  release.unref();
}
