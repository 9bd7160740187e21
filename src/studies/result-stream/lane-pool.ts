/** Arrays that serve one batch of results after the other: new memory for each input is dear. */
export class LanePool {
  readonly #byLength = new Map<number, { readonly arrays: Float64Array[]; used: number }>();

  /** An array of any content, good until `release`. */
  take(length: number): Float64Array {
    let shelf = this.#byLength.get(length);
    if (shelf === undefined) {
      shelf = { arrays: [], used: 0 };
      this.#byLength.set(length, shelf);
    }
    const known = shelf.arrays[shelf.used++];
    if (known !== undefined) return known;
    const made = new Float64Array(length);
    shelf.arrays.push(made);
    return made;
  }

  /** Takes all arrays back. */
  release(): void {
    for (const shelf of this.#byLength.values()) shelf.used = 0;
  }
}
