import { open } from 'node:fs/promises';

const chunkBytes = 1 << 18;

/**
 * Bytes of a file in pieces; the next one is read while one is worked on. Their memory is used again: take what is
 * needed before the next piece.
 */
export async function* chunksOf(path: string): AsyncGenerator<Uint8Array, void, undefined> {
  const file = await open(path, 'r');
  try {
    let buffer = new Uint8Array(chunkBytes);
    let spare = new Uint8Array(chunkBytes);
    let reading = file.read(buffer, 0, chunkBytes, null);
    for (;;) {
      const { bytesRead } = await reading;
      if (bytesRead === 0) return;
      reading = file.read(spare, 0, chunkBytes, null);
      try {
        yield buffer.subarray(0, bytesRead);
      } finally {
        await reading;
      }
      [buffer, spare] = [spare, buffer];
    }
  } finally {
    await file.close();
  }
}
