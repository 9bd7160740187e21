/** Number of values that the moments of one block take: mean and sum of squares of each output, and sums of products. */
export function momentsPerBlock(outputs: number): number {
  return 2 * outputs + (outputs * (outputs - 1)) / 2;
}

/**
 * Means, sums of squares about the mean and sums of products of the outputs in one block.
 *
 * @param columns one an output
 * @param count trials of the block that count
 * @param into written from `at` on: all means, then the squares, then the products (0, 1), (0, 2), … (1, 2), …
 * @returns whether all values are finite
 */
export function blockMoments(
  columns: readonly Float64Array[],
  count: number,
  into: Float64Array,
  at: number,
): boolean {
  const k = columns.length;
  let next = at + 2 * k;
  let areFinite = true;
  for (let o = 0; o < k; o++) {
    const mean = sumOf(columns[o]!, count) / count;
    into[at + o] = mean;
    into[at + k + o] = squaresAbout(columns[o]!, mean, count);
    areFinite &&= Number.isFinite(mean);
  }
  for (let o = 0; o < k; o++) {
    for (let p = o + 1; p < k; p++) {
      into[next++] = productsAbout(columns[o]!, into[at + o]!, columns[p]!, into[at + p]!, count);
    }
  }
  return areFinite;
}

/** Four sums side by side, so that no addition waits for the one before. */
function sumOf(values: Float64Array, count: number): number {
  let [a, b, c, d] = [0, 0, 0, 0];
  let i = 0;
  for (; i + 3 < count; i += 4) {
    a += values[i]!;
    b += values[i + 1]!;
    c += values[i + 2]!;
    d += values[i + 3]!;
  }
  for (; i < count; i++) a += values[i]!;
  return a + b + (c + d);
}

function squaresAbout(values: Float64Array, mean: number, count: number): number {
  let [a, b] = [0, 0];
  let i = 0;
  for (; i + 1 < count; i += 2) {
    const x = values[i]! - mean;
    const y = values[i + 1]! - mean;
    a += x * x;
    b += y * y;
  }
  if (i < count) a += (values[i]! - mean) * (values[i]! - mean);
  return a + b;
}

function productsAbout(
  x: Float64Array,
  xMean: number,
  y: Float64Array,
  yMean: number,
  count: number,
): number {
  let sum = 0;
  for (let i = 0; i < count; i++) sum += (x[i]! - xMean) * (y[i]! - yMean);
  return sum;
}

/** Means, sums of squares and sums of products over many blocks. */
export interface CombinedMoments {
  readonly count: number;
  readonly means: Float64Array;
  /** Sums of products about the means, one row an output. */
  readonly products: readonly Float64Array[];
}

/**
 * Combines the moments of blocks in their order, so that the result does not depend on who computed them when.
 *
 * @param moments what `blockMoments` wrote, block after block
 * @param counts trials of each block
 * @param outputs number of outputs
 * @see Chan, Golub, LeVeque 1983, The American Statistician 37, 242
 */
export function combineMoments(
  moments: Float64Array,
  counts: readonly number[],
  outputs: number,
): CombinedMoments {
  const k = outputs;
  const means = new Float64Array(k);
  const products = Array.from({ length: k }, () => new Float64Array(k));
  const shift = new Float64Array(k);
  let count = 0;
  counts.forEach((blockCount, block) => {
    const at = block * momentsPerBlock(k);
    const total = count + blockCount;
    for (let o = 0; o < k; o++) shift[o] = moments[at + o]! - means[o]!;
    const weight = (count * blockCount) / total;
    let next = at + 2 * k;
    for (let o = 0; o < k; o++) {
      products[o]![o]! += moments[at + k + o]! + shift[o]! * shift[o]! * weight;
      for (let p = o + 1; p < k; p++) {
        products[o]![p]! += moments[next++]! + shift[o]! * shift[p]! * weight;
        products[p]![o] = products[o]![p]!;
      }
    }
    for (let o = 0; o < k; o++) means[o]! += shift[o]! * (blockCount / total);
    count = total;
  });
  return { count, means, products };
}
