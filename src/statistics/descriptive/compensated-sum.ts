/** A sum carried as two doubles: `sum` is the rounded total, `rest` what rounding took from it. */
export interface CompensatedTotal {
  readonly sum: number;
  readonly rest: number;
}

/**
 * Running sum in about twice the working precision: every rounding error of an addition, and of a product added by
 * `addProduct`, is recovered exactly and carried along.
 *
 * @see Ogita, Rump and Oishi 2005, Accurate sum and dot product, SIAM J. Sci. Comput. 26, 1955, algorithms 4.4 and 5.3
 * @example
 * new CompensatedSum().add(1e16).add(1).add(-1e16).value() // => 1
 */
export class CompensatedSum {
  #sum = 0;
  #rest = 0;

  add(x: number): this {
    const total = this.#sum + x;
    const shift = total - this.#sum;
    this.#rest += this.#sum - (total - shift) + (x - shift);
    this.#sum = total;
    return this;
  }

  /** Adds x·y with the rounding error of the product; exact while the product neither overflows nor falls below 1e-290. */
  addProduct(x: number, y: number): this {
    const product = x * y;
    this.#rest += productError(x, y, product);
    return this.add(product);
  }

  value(): number {
    return this.#sum + this.#rest;
  }

  total(): CompensatedTotal {
    const sum = this.#sum + this.#rest;
    return { sum, rest: this.#rest - (sum - this.#sum) };
  }
}

/**
 * Rounding error of a product: x·y = `product` + result, exactly.
 *
 * @see Dekker 1971, A floating-point technique for extending the available precision, Numer. Math. 18, 224
 * @example
 * productError(0.1, 10, 0.1 * 10) // => 5.5511151e-17
 */
export function productError(x: number, y: number, product: number): number {
  const xCut = 134217729 * x;
  const xHigh = xCut - (xCut - x);
  const xLow = x - xHigh;
  const yCut = 134217729 * y;
  const yHigh = yCut - (yCut - y);
  const yLow = y - yHigh;
  return xLow * yLow - (product - xHigh * yHigh - xLow * yHigh - xHigh * yLow);
}

/**
 * Sum as if calculated in twice the working precision and rounded once.
 *
 * @param values any number of finite values; none gives 0
 * @see Ogita, Rump and Oishi 2005, SIAM J. Sci. Comput. 26, 1955, algorithm 4.4
 * @example
 * compensatedSum([0.1, 0.2, 0.3, -0.6]) // => 2.7755576e-17
 */
export function compensatedSum(values: ArrayLike<number>): number {
  return compensatedTotal(values).sum;
}

/** As `compensatedSum`, with the part that the last rounding drops. */
export function compensatedTotal(values: ArrayLike<number>): CompensatedTotal {
  const total = new CompensatedSum();
  for (let i = 0; i < values.length; i++) total.add(values[i]!);
  return total.total();
}

/**
 * Sum of products as if calculated in twice the working precision and rounded once.
 *
 * @param x n finite values
 * @param y n finite values
 * @see Ogita, Rump and Oishi 2005, SIAM J. Sci. Comput. 26, 1955, algorithm 5.3
 * @example
 * compensatedDot([1e8 + 1, -1e8], [1e8 - 1, 1e8]) // => -1
 */
export function compensatedDot(x: ArrayLike<number>, y: ArrayLike<number>): number {
  const total = new CompensatedSum();
  for (let i = 0; i < x.length; i++) total.addProduct(x[i]!, y[i]!);
  return total.value();
}
