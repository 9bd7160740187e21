import { crc32, inflateRawSync } from 'node:zlib';
import { type ZipEntry, zipEntries } from './zip-entries.js';

/** Opening tag of a cell of type error, in bytes read as Latin-1: what stands in it is a word such as `#DIV/0!`. */
const errorCell = /(<(?:[\w.-]+:)?c(?:\s[^<>]*)?\st=)(["'])e\2/g;

/**
 * The workbook with its error cells (`#N/A`, `#DIV/0!`) turned into texts. The spreadsheet reader gives an error cell back as
 * an empty one, so that a failed formula in a column that may be empty would pass unseen.
 *
 * @param bytes of an archive that is sound and small enough when unpacked
 * @returns the bytes as they are where no cell holds an error
 * @see ECMA-376-1:2016, 18.18.11 ST_CellType (from memory)
 */
export function withErrorsAsText(bytes: Uint8Array): Uint8Array {
  const entries = zipEntries(bytes).map((entry) => {
    const content = contentOf(bytes, entry);
    return { entry, content, mended: isXml(entry) ? errorsAsText(content) : content };
  });
  if (entries.every(({ content, mended }) => content === mended)) return bytes;
  return storedArchive(entries.map(({ entry, mended }) => ({ name: entry.name, content: mended })));
}

function contentOf(bytes: Uint8Array, { dataAt, dataEnd, isDeflated }: ZipEntry): Uint8Array {
  const packed = bytes.subarray(dataAt, dataEnd);
  return isDeflated ? inflateRawSync(packed) : packed;
}

function isXml({ name }: ZipEntry): boolean {
  return Buffer.from(name).toString('latin1').toLowerCase().endsWith('.xml');
}

/** The same bytes back where nothing is to be changed. */
function errorsAsText(content: Uint8Array): Uint8Array {
  // Latin-1 gives each byte back as it was, whatever the encoding of the text between the tags.
  const text = Buffer.from(content.buffer, content.byteOffset, content.byteLength).toString('latin1');
  const mended = text.replace(errorCell, '$1$2str$2');
  return mended === text ? content : Buffer.from(mended, 'latin1');
}

/** An archive without compression. */
function storedArchive(
  files: readonly { readonly name: Uint8Array; readonly content: Uint8Array }[],
): Uint8Array {
  const parts: Uint8Array[] = [];
  const directory: Uint8Array[] = [];
  let at = 0;
  for (const { name, content } of files) {
    const common = Buffer.alloc(26);
    common.writeUInt16LE(20, 0);
    common.writeUInt32LE(crc32(content), 10);
    common.writeUInt32LE(content.length, 14);
    common.writeUInt32LE(content.length, 18);
    common.writeUInt16LE(name.length, 22);
    const rest = Buffer.alloc(14);
    rest.writeUInt32LE(at, 10);
    parts.push(mark(0x04034b50), common, name, content);
    directory.push(mark(0x02014b50), Buffer.from([20, 0]), common, rest, name);
    at += 30 + name.length + content.length;
  }
  const size = directory.reduce((sum, part) => sum + part.length, 0);
  const end = Buffer.alloc(18);
  end.writeUInt16LE(files.length, 4);
  end.writeUInt16LE(files.length, 6);
  end.writeUInt32LE(size, 8);
  end.writeUInt32LE(at, 12);
  return Buffer.concat([...parts, ...directory, mark(0x06054b50), end]);
}

function mark(signature: number): Uint8Array {
  const bytes = Buffer.alloc(4);
  bytes.writeUInt32LE(signature);
  return bytes;
}
