import { inflateRawSync } from 'node:zlib';

/** One entry of a ZIP archive, by its place in the bytes. */
export interface ZipEntry {
  /** Start of the record in the central directory. */
  readonly centralAt: number;
  /** Start of the local header. */
  readonly localAt: number;
  readonly dataAt: number;
  readonly dataEnd: number;
  readonly isDeflated: boolean;
  /** Name as the directory gives it: bytes of UTF-8 or of an old code page. */
  readonly name: Uint8Array;
}

/** Says why bytes are no archive we take. */
export class ZipFault extends Error {}

const [endMark, centralMark, localMark] = [0x06054b50, 0x02014b50, 0x04034b50];

/**
 * Entries of a ZIP archive by its central directory. Entries must follow one another without hidden bytes between, so
 * that a reader that goes from the front sees the same ones.
 * @throws ZipFault
 * @see PKWARE APPNOTE 6.3, sections 4.3.7, 4.3.12, 4.3.16 (from memory)
 */
export function zipEntries(bytes: Uint8Array): readonly ZipEntry[] {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const endAt = findEnd(view);
  const count = view.getUint16(endAt + 10, true);
  const directoryAt = view.getUint32(endAt + 16, true);
  const entries: ZipEntry[] = [];
  let at = directoryAt;
  for (let i = 0; i < count; i++) {
    if (at + 46 > endAt || view.getUint32(at, true) !== centralMark) throw new ZipFault('a broken directory');
    entries.push(entryAt(view, at));
    at += 46 + view.getUint16(at + 28, true) + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
  }
  requireNoGaps(entries, directoryAt);
  return entries;
}

/**
 * Bytes that an archive unpacks to; inflation stops at `most`.
 * @throws ZipFault the archive is broken, or unpacks to more
 */
export function unpackedSize(bytes: Uint8Array, most: number): number {
  let total = 0;
  for (const { dataAt, dataEnd, isDeflated } of zipEntries(bytes)) {
    const packed = bytes.subarray(dataAt, dataEnd);
    total += isDeflated ? inflatedLength(packed, Math.max(most - total, 1)) : packed.length;
    if (total > most) throw new ZipFault('more when unpacked');
  }
  return total;
}

function findEnd(view: DataView): number {
  for (let at = view.byteLength - 22; at >= Math.max(0, view.byteLength - 22 - 65_535); at--) {
    if (view.getUint32(at, true) === endMark) return at;
  }
  throw new ZipFault('no ZIP archive');
}

function entryAt(view: DataView, centralAt: number): ZipEntry {
  const method = view.getUint16(centralAt + 10, true);
  const localAt = view.getUint32(centralAt + 42, true);
  const isSound = localAt + 30 <= view.byteLength && view.getUint32(localAt, true) === localMark;
  if (!isSound || (method !== 0 && method !== 8)) throw new ZipFault('an entry of unknown form');
  const dataAt = localAt + 30 + view.getUint16(localAt + 26, true) + view.getUint16(localAt + 28, true);
  const dataEnd = dataAt + view.getUint32(centralAt + 20, true);
  if (dataEnd > view.byteLength) throw new ZipFault('an entry that is cut off');
  const all = new Uint8Array(view.buffer, view.byteOffset, view.byteLength);
  const name = all.subarray(centralAt + 46, centralAt + 46 + view.getUint16(centralAt + 28, true));
  return { centralAt, localAt, dataAt, dataEnd, isDeflated: method === 8, name };
}

/** A data descriptor of at most 24 bytes may follow the data of an entry, nothing else. */
function requireNoGaps(entries: readonly ZipEntry[], directoryAt: number): void {
  const ordered = [...entries].sort((a, b) => a.localAt - b.localAt);
  let from = 0;
  for (const { localAt, dataEnd } of ordered) {
    const gap = localAt - from;
    if (gap < 0 || gap > (from === 0 ? 0 : 24)) throw new ZipFault('bytes that no entry claims');
    from = dataEnd;
  }
  if (directoryAt < from || directoryAt - from > 24) throw new ZipFault('bytes that no entry claims');
}

function inflatedLength(packed: Uint8Array, most: number): number {
  try {
    return inflateRawSync(packed, { maxOutputLength: most }).length;
  } catch (error) {
    const isTooLong = error instanceof RangeError;
    throw new ZipFault(isTooLong ? 'more when unpacked' : 'an entry that cannot be unpacked', {
      cause: error,
    });
  }
}
