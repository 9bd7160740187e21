/** The smallest and the largest of many values, each in rising order. */
export interface SortedTails {
  readonly low: Float64Array;
  readonly high: Float64Array;
}

/** Memory for tails, to be used again: fresh pages for it take as long as to sort it. */
export class TailMemory {
  #low = new Float64Array(0);
  #high = new Float64Array(0);

  /** Room for so many values of each tail; what was there is overwritten. */
  room(capacity: number): SortedTails {
    if (this.#low.length < capacity) {
      this.#low = new Float64Array(capacity);
      this.#high = new Float64Array(capacity);
    }
    return { low: this.#low.subarray(0, capacity), high: this.#high.subarray(0, capacity) };
  }
}

/**
 * The `count` smallest and `count` largest of the values, sorted; the rest is only looked at. Thresholds come from a
 * sample of the values, so that one pass finds the tails; where the guess misses (few values, many equal ones), all are
 * sorted.
 *
 * @param values in any order, left as they are
 * @param count at least 1; above half the number of values the two tails share some of them
 * @param memory where the tails may lie; they then last until it is used again
 * @example
 * sortedTails(Float64Array.of(5, 1, 4, 2, 3), 2).high // => { '0': 4, '1': 5 }
 */
export function sortedTails(values: Float64Array, count: number, memory = new TailMemory()): SortedTails {
  const sample = Math.min(8192, values.length >> 3);
  if (sample >= 64) {
    const found = byThresholds(values, count, sample, memory);
    if (found !== undefined) return found;
  }
  const sorted = Float64Array.from(values).sort();
  return { low: sorted.subarray(0, count), high: sorted.subarray(values.length - count) };
}

function byThresholds(
  values: Float64Array,
  count: number,
  size: number,
  memory: TailMemory,
): SortedTails | undefined {
  const n = values.length;
  const share = count / n;
  // Four standard errors of a sample quantile, so that too few are caught once in 10⁴.
  const margin = 4 * Math.sqrt((share * (1 - share)) / size);
  const rank = Math.floor(size * (share + margin)) + 1;
  if (2 * rank >= size) return undefined;
  const sample = new Float64Array(size);
  for (let i = 0; i < size; i++) sample[i] = values[Math.floor((i * n) / size)]!;
  sample.sort();
  const capacity = Math.ceil(n * (share + 3 * margin)) + 16;
  const { low, high } = memory.room(capacity);
  const found = [0, 0];
  collect(values, sample[rank]!, sample[size - 1 - rank]!, low, high, found);
  const [lows, highs] = [found[0]!, found[1]!];
  if (lows < count || highs < count || lows > capacity || highs > capacity) return undefined;
  return {
    low: low.subarray(0, lows).sort().subarray(0, count),
    high: high
      .subarray(0, highs)
      .sort()
      .subarray(highs - count),
  };
}

/** Writing beyond the capacity is lost, and the count then says so. */
function collect(
  values: Float64Array,
  lowest: number,
  highest: number,
  low: Float64Array,
  high: Float64Array,
  found: number[],
): void {
  let [lows, highs] = [0, 0];
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (value <= lowest) low[lows++] = value;
    if (value >= highest) high[highs++] = value;
  }
  found[0] = lows;
  found[1] = highs;
}
