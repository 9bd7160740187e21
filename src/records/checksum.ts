import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { pipeline } from 'node:stream/promises';

/**
 * SHA-256 of bytes, or of a text as UTF-8, in lower-case hexadecimal digits.
 * @see FIPS 180-4
 * @example
 * sha256('abc').slice(0, 8) // => 'ba7816bf'
 */
export function sha256(content: Uint8Array | string): string {
  return createHash('sha256').update(content).digest('hex');
}

/** SHA-256 of a file, read as a stream. */
export async function sha256OfFile(path: string): Promise<string> {
  const hash = createHash('sha256');
  await pipeline(createReadStream(path), hash);
  return hash.digest('hex');
}
