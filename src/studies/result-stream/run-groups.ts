import type { DigestionRecord } from '../../records/tables/digestions.js';
import { type StudyIndex, usable } from '../study-index.js';
import type { StreamContext } from './stream-context.js';
import type { OpenRun } from './template-store.js';

/** Digestions of one run whose results on one line are made alike. */
export interface Group {
  readonly make: string;
  readonly digestions: readonly number[];
}

/** Tells which digestions of a run are worked out by the same equations. */
export class RunGroups {
  readonly #run: OpenRun;
  readonly #index: StudyIndex;
  readonly #lines: number;
  readonly #kinds: readonly string[];
  /** Groups of lines that were each read in other solutions than those before them. */
  readonly #groups: { readonly line: number; readonly groups: readonly Group[] }[] = [];

  constructor(context: StreamContext, run: OpenRun) {
    this.#run = run;
    this.#index = context.index;
    this.#lines = run.readings.scopes.length;
    const kinds: string[] = [];
    for (const row of run.signals.digestions) kinds.push(kindOf(row));
    this.#kinds = kinds;
  }

  isWithoutPortion(d: number): boolean {
    const { crucibleG, crucibleWithPortionG } = this.#run.signals.digestions[d]!;
    return crucibleWithPortionG === crucibleG;
  }

  /** True where an amount is wanted ahead of the results: without portion, or to make up the blank. */
  isBlank(d: number): boolean {
    return this.#run.signals.digestions[d]!.kind === 'blank' || this.isWithoutPortion(d);
  }

  /**
   * Digestions with a result on a line, gathered by what tells their equations apart: kind of digestion, signals there
   * are, and which of them share a dilution. Without a reading of the line or that of an interferent there is no result, nor
   * without the mass of the empty vessel.
   *
   * @param lines of the signals, the own first; −1 for an interferent that the plan does not measure
   */
  groups(lines: readonly number[]): readonly Group[] {
    const [line = -1] = lines;
    const index = this.#index;
    const { analyte } = this.#run.readings.scopes[line]!;
    if (lines.length > 1 || index.excluded.size > 0) {
      return this.#gather((d, { digestion }) =>
        usable(index, digestion, analyte) ? this.#makeOf(d, lines) : null,
      );
    }
    // Most lines were read in the same solutions as the line before.
    for (const known of this.#groups) if (this.#areReadAlike(known.line, line)) return known.groups;
    const groups = this.#gather((d) => this.#makeOf(d, lines));
    this.#groups.push({ line, groups });
    return groups;
  }

  #areReadAlike(first: number, second: number): boolean {
    const { placeKinds } = this.#run.signals;
    for (let row = 0; row < placeKinds.length; row += this.#lines) {
      if (placeKinds[row + first] !== placeKinds[row + second]) return false;
    }
    return true;
  }

  #gather(makeOf: (d: number, row: DigestionRecord) => string | null): readonly Group[] {
    const groups = new Map<string, { readonly make: string; readonly digestions: number[] }>();
    const { digestions } = this.#run.signals;
    for (let d = 0; d < digestions.length; d++) {
      if (digestions[d]!.vesselEmptyG === null) continue;
      const make = makeOf(d, digestions[d]!);
      if (make === null) continue;
      const group = groups.get(make);
      if (group === undefined) groups.set(make, { make, digestions: [d] });
      else group.digestions.push(d);
    }
    return [...groups.values()];
  }

  #makeOf(d: number, lines: readonly number[]): string | null {
    const { places, placeKinds, digestions } = this.#run.signals;
    let make = this.#kinds[d]!;
    const dilutions: number[] = [];
    for (let i = 0; i < lines.length; i++) {
      const line = lines[i]!;
      const cell = d * this.#lines + line;
      const kind = line < 0 ? 0 : placeKinds[cell]!;
      if (kind === 0) {
        if (i === 0 || digestions[d]!.kind !== 'blank') return null;
        make += '-';
      } else if (kind === 1) {
        make += '0';
      } else {
        if (!dilutions.includes(places[cell]!)) dilutions.push(places[cell]!);
        make += dilutions.indexOf(places[cell]!) + 1;
      }
    }
    return make;
  }
}

/** Digestions of one kind have the same losses of mass: none for a blank, those that the plan asks for else. */
function kindOf(row: DigestionRecord): string {
  const isBlank = row.crucibleWithPortionG === row.crucibleG;
  const hasOneBalance = row.portionBalance === row.vesselBalance;
  // A number for each combination.
  return `${(row.kind === 'blank' ? 4 : 0) + (isBlank ? 2 : 0) + (hasOneBalance ? 1 : 0)}|`;
}
