interface Entry {
  readonly text: string;
  readonly bytes: Uint8Array;
  readonly next: Entry | undefined;
}

const mostEntries = 50_000;
const longestKept = 64;

/** Makes texts of bytes, and gives the same string for the same bytes: names come back thousands of times. */
export class TextStore {
  readonly #entries = new Map<number, Entry>();
  readonly #decoder = new TextDecoder('utf-8', { ignoreBOM: true });
  #size = 0;

  text(bytes: Uint8Array, start: number, end: number): string {
    const length = end - start;
    if (length === 0) return '';
    if (length > longestKept) return this.#decode(bytes.subarray(start, end));
    let hash = length;
    for (let at = start; at < end; at++) hash = (Math.imul(hash, 31) + bytes[at]!) | 0;
    for (let entry = this.#entries.get(hash); entry !== undefined; entry = entry.next) {
      if (isSame(entry.bytes, bytes, start, length)) return entry.text;
    }
    const text = this.#decode(bytes.subarray(start, end));
    if (this.#size < mostEntries) {
      this.#entries.set(hash, { text, bytes: bytes.slice(start, end), next: this.#entries.get(hash) });
      this.#size++;
    }
    return text;
  }

  /** Blanks other than space and tab (such as the no-break space) go here; the scanner took those two. */
  #decode(bytes: Uint8Array): string {
    return this.#decoder.decode(bytes).trim();
  }
}

function isSame(known: Uint8Array, bytes: Uint8Array, start: number, length: number): boolean {
  if (known.length !== length) return false;
  for (let i = 0; i < length; i++) if (known[i] !== bytes[start + i]) return false;
  return true;
}
