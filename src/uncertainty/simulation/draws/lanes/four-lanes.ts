import { decide, type Ziggurat } from '../ziggurat.js';
import { fourLanesModule } from './four-lanes-module.js';

/** Streams that are drawn from side by side. */
export const lanes = 4;

/** Trials that the columns have room for. */
export const mostTrials = 2048;

/** A stream, and the column that the next of its numbers fill. */
export interface Lane {
  /** State of xoshiro128**, moved on. */
  readonly state: Uint32Array;
  readonly column: Float64Array;
  readonly centre: number;
  /** Factor of a deviate, or half-width of a rectangular quantity. */
  readonly factor: number;
}

/** A lane of deviates from the density of a ziggurat. */
export interface DeviateLane extends Lane {
  readonly ziggurat: Ziggurat;
}

/** Places of the memory, in bytes, as `four-lanes.wat` states them. */
const place = { centres: 64, factors: 96, columns: 2048, tables: 68352, open: 85504 } as const;
const columnStride = 16576;
const tableStride = 4288;
const openStride = 64;
const pairs = 256;

interface Exports {
  readonly memory: { readonly buffer: ArrayBuffer };
  propose(n: number, table0: number, table1: number, table2: number, table3: number): number;
  fillSymmetric(n: number): void;
}

/** What of WebAssembly is used; the type checker knows none without the types of a browser. */
interface Engine {
  validate(bytes: Uint8Array): boolean;
  readonly Module: new (bytes: Uint8Array) => object;
  readonly Instance: new (module: object) => { readonly exports: unknown };
}

/**
 * Draws from four streams at once by the vector instructions of WebAssembly, with the same bits as the loops in
 * TypeScript, in less than half their time.
 */
export class FourLanes {
  readonly #exports: Exports;
  readonly #states: Uint32Array;
  readonly #centres: Float64Array;
  readonly #factors: Float64Array;
  readonly #columns: readonly Float64Array[];
  readonly #tables: readonly Float64Array[];
  readonly #resident: (Ziggurat | null)[] = new Array<Ziggurat | null>(lanes).fill(null);
  readonly #openNumbers: Float64Array;
  readonly #openWords: Int32Array;

  private constructor(instance: Exports) {
    const { buffer } = instance.memory;
    const each = Array.from({ length: lanes }, (_, lane) => lane);
    this.#exports = instance;
    this.#states = new Uint32Array(buffer, 0, 4 * lanes);
    this.#centres = new Float64Array(buffer, place.centres, lanes);
    this.#factors = new Float64Array(buffer, place.factors, lanes);
    this.#columns = each.map((k) => new Float64Array(buffer, place.columns + k * columnStride, mostTrials));
    this.#tables = each.map((k) => new Float64Array(buffer, place.tables + k * tableStride, 2 * pairs));
    this.#openNumbers = new Float64Array(buffer, place.open, (mostTrials * openStride) / 8);
    this.#openWords = new Int32Array(buffer, place.open, (mostTrials * openStride) / 4);
  }

  /** Null where this machine's JavaScript has no WebAssembly or no vector instructions in it. */
  static open(): FourLanes | null {
    const engine = (globalThis as { readonly WebAssembly?: Engine }).WebAssembly;
    const bytes = Buffer.from(fourLanesModule, 'base64');
    if (engine?.validate(bytes) !== true) return null;
    return new FourLanes(new engine.Instance(new engine.Module(bytes)).exports as Exports);
  }

  /**
   * Fills each column with centre + factor·x of deviates x, as `fillFrom` does.
   *
   * @param filled one to four, with columns of one length, `mostTrials` at most
   */
  fillDeviates(filled: readonly DeviateLane[]): void {
    const n = filled[0]!.column.length;
    this.#enter(filled, 1);
    const [t0, t1, t2, t3] = this.#tablesOf(filled) as [number, number, number, number];
    const open = this.#exports.propose(n, t0, t1, t2, t3);
    this.#leave(filled, n);
    if (open > 0) this.#settle(filled, open);
  }

  /** Fills each column with uniform numbers on (centre − factor, centre + factor), as `fillSymmetric` does. */
  fillSymmetric(filled: readonly Lane[]): void {
    const n = filled[0]!.column.length;
    this.#enter(filled, 1 / 2 ** 52);
    this.#exports.fillSymmetric(n);
    this.#leave(filled, n);
  }

  /** A lane that nobody wants repeats the first. */
  #enter(filled: readonly Lane[], unit: number): void {
    for (let k = 0; k < lanes; k++) {
      const { state, centre, factor } = filled[k] ?? filled[0]!;
      for (let word = 0; word < 4; word++) this.#states[lanes * word + k] = state[word]!;
      this.#centres[k] = centre;
      this.#factors[k] = factor * unit;
    }
  }

  #leave(filled: readonly Lane[], n: number): void {
    filled.forEach(({ state, column }, k) => {
      for (let word = 0; word < 4; word++) state[word] = this.#states[lanes * word + k]!;
      const found = this.#columns[k]!;
      column.set(n === mostTrials ? found : found.subarray(0, n));
    });
  }

  /** Where the table of each lane stands; lanes of the same ziggurat share one. */
  #tablesOf(filled: readonly DeviateLane[]): number[] {
    return Array.from({ length: lanes }, (_, k) => {
      const { ziggurat } = filled[k] ?? filled[0]!;
      const shared = filled.findIndex((lane) => lane.ziggurat === ziggurat);
      if (shared === k && this.#resident[k] !== ziggurat) this.#writeTable(k, ziggurat);
      return place.tables + shared * tableStride;
    });
  }

  #writeTable(lane: number, ziggurat: Ziggurat): void {
    const table = this.#tables[lane]!;
    for (let layer = 0; layer < pairs; layer++) {
      table[2 * layer] = ziggurat.widths[layer]!;
      table[2 * layer + 1] = ziggurat.edges[layer + 1]!;
    }
    this.#resident[lane] = ziggurat;
  }

  /** Decides on the deviates that are not sure, each stream for itself and in its order. */
  #settle(filled: readonly DeviateLane[], open: number): void {
    for (let j = 0; j < open; j++) {
      const words = (j * openStride) / 4;
      const at = this.#openWords[words + 12]! >> 3;
      const mask = this.#openWords[words + 13]!;
      for (let k = 0; k < filled.length; k++) {
        if ((mask & (1 << k)) === 0) continue;
        const { ziggurat, state, column, centre, factor } = filled[k]!;
        const deviate = this.#openNumbers[(j * openStride) / 8 + k]!;
        column[at] = centre + factor * decide(ziggurat, state, deviate, this.#openWords[words + 8 + k]! >> 4);
      }
    }
  }
}
