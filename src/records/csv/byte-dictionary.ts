/** So few that room is made for more early: code that a machine has made ready is thrown away where it first does what it never did. */
const firstSlots = 16;

/** Numbers the different byte strings it is shown 0, 1, 2 … in the order in which they come first. */
export class ByteDictionary {
  #slots = new Int32Array(firstSlots).fill(-1);
  #hashes = new Int32Array(firstSlots);
  #offsets = new Int32Array(firstSlots);
  #pool: Uint8Array = new Uint8Array(firstSlots * 16);
  #size = 0;

  get size(): number {
    return this.#size;
  }

  /** Number of the bytes from `start` to before `end`; it equals the former `size` where they are new. */
  codeOf(bytes: Uint8Array, start: number, end: number): number {
    let hash = end - start;
    for (let at = start; at < end; at++) hash = (Math.imul(hash, 31) + bytes[at]!) | 0;
    hash ^= hash >>> 15;
    const mask = this.#slots.length - 1;
    let slot = hash - 1;
    let code: number;
    do {
      slot = (slot + 1) & mask;
      code = this.#slots[slot]!;
    } while (code >= 0 && !(this.#hashes[code] === hash && this.#holds(code, bytes, start, end)));
    if (code >= 0) return code;
    this.#slots[slot] = this.#size;
    return this.#add(hash, bytes, start, end);
  }

  #holds(code: number, bytes: Uint8Array, start: number, end: number): boolean {
    const pool = this.#pool;
    const from = this.#offsets[code]!;
    if (this.#offsets[code + 1]! - from !== end - start) return false;
    for (let at = start, known = from; at < end; at++, known++) if (pool[known] !== bytes[at]) return false;
    return true;
  }

  #add(hash: number, bytes: Uint8Array, start: number, end: number): number {
    const code = this.#size++;
    const from = this.#offsets[code]!;
    const to = from + end - start;
    while (to > this.#pool.length) this.#pool = doubled(this.#pool, Uint8Array);
    this.#pool.set(bytes.subarray(start, end), from);
    this.#hashes[code] = hash;
    if (code + 2 > this.#offsets.length) {
      this.#offsets = doubled(this.#offsets, Int32Array);
      this.#hashes = doubled(this.#hashes, Int32Array);
    }
    this.#offsets[code + 1] = to;
    if (this.#size * 2 > this.#slots.length) this.#rehash();
    return code;
  }

  #rehash(): void {
    const slots = new Int32Array(this.#slots.length * 2).fill(-1);
    const mask = slots.length - 1;
    for (let code = 0; code < this.#size; code++) {
      let slot = this.#hashes[code]! & mask;
      while (slots[slot]! >= 0) slot = (slot + 1) & mask;
      slots[slot] = code;
    }
    this.#slots = slots;
  }
}

function doubled<A extends Int32Array | Uint8Array>(array: A, kind: new (length: number) => A): A {
  const longer = new kind(array.length * 2);
  longer.set(array);
  return longer;
}
