import { dilutionColumns } from './run-weighings.js';
import type { StreamContext } from './stream-context.js';
import type { OpenRun } from './template-store.js';
import type { WeighingColumns } from './weighing-columns.js';

/** Dilutions of some digestions, by the names of a dilution without a name of its own. */
interface Diluted {
  /** Where each of the digestions was read. */
  readonly places: Int32Array;
  readonly columns: WeighingColumns;
}

/** Dilutions that some digestions of a run were read in, line by line. */
export class DilutionsOfLines {
  readonly #context: StreamContext;
  readonly #run: OpenRun;
  readonly #digestions: readonly number[];
  readonly #all: Diluted[] = [];
  readonly #byLine: (Diluted | undefined)[] = [];

  constructor(context: StreamContext, run: OpenRun, digestions: readonly number[]) {
    this.#context = context;
    this.#run = run;
    this.#digestions = digestions;
  }

  /**
   * Lines read in the same solutions share their columns.
   * @throws InputError a dilution to a volume, a balance that the register does not hold
   */
  columnsOf(line: number): WeighingColumns {
    const known = this.#byLine[line];
    if (known !== undefined) return known.columns;
    const found = this.#readIn(this.#placesOf(line));
    this.#byLine[line] = found;
    return found.columns;
  }

  #placesOf(line: number): Int32Array {
    const { places } = this.#run.signals;
    const lines = this.#run.readings.scopes.length;
    const own = new Int32Array(this.#digestions.length);
    for (let i = 0; i < own.length; i++) own[i] = places[this.#digestions[i]! * lines + line]!;
    return own;
  }

  #readIn(places: Int32Array): Diluted {
    for (const each of this.#all) if (isSameList(each.places, places)) return each;
    const columns = dilutionColumns(this.#context, this.#run, this.#digestions, places);
    const made = { places, columns };
    this.#all.push(made);
    return made;
  }
}

export function isSameList(first: ArrayLike<number>, second: ArrayLike<number>): boolean {
  if (first === second) return true;
  if (first.length !== second.length) return false;
  for (let i = 0; i < first.length; i++) if (first[i] !== second[i]) return false;
  return true;
}
