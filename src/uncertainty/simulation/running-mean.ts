/** Mean of figures that come in one after another, and how well it is known. */
export class RunningMean {
  #count = 0;
  #mean = 0;
  #squares = 0;

  /** @see Welford 1962, Technometrics 4, 419 */
  add(value: number): void {
    this.#count++;
    const shift = value - this.#mean;
    this.#mean += shift / this.#count;
    this.#squares += shift * (value - this.#mean);
  }

  get mean(): number {
    return this.#mean;
  }

  /** Mean of the squared deviations. */
  get spread(): number {
    return this.#squares / this.#count;
  }

  /** Standard deviation of the mean; two figures at least. */
  get standardDeviationOfMean(): number {
    return Math.sqrt(this.#squares / (this.#count * (this.#count - 1)));
  }
}
