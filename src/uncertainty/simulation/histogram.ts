/** Frequencies of trials in cells of equal width, for drawing. */
export interface Histogram {
  /** Edges of the cells, one more than there are cells. */
  readonly edges: readonly number[];
  readonly counts: readonly number[];
  /** Trials below the first and above the last cell. */
  readonly below: number;
  readonly above: number;
}

/**
 * Histogram of trials between two limits.
 *
 * @param values the trials
 * @param low lower edge of the first cell
 * @param high upper edge of the last cell; where it is not above `low`, all trials are in one cell
 * @param cells number of cells
 * @example
 * histogramOf(Float64Array.of(0.1, 0.6, 0.7, 3), 0, 1, 2).counts // => [1, 2]
 */
export function histogramOf(values: Float64Array, low: number, high: number, cells: number): Histogram {
  const width = (high - low) / cells;
  if (!(width > 0)) return { edges: [low, high], counts: [values.length], below: 0, above: 0 };
  const counts = new Int32Array(cells + 2);
  count(values, low, high, cells / (high - low), counts);
  return {
    edges: Array.from({ length: cells + 1 }, (_, i) => (i === cells ? high : low + i * width)),
    counts: Array.from(counts.subarray(1, cells + 1)),
    below: counts[0]!,
    above: counts[cells + 1]!,
  };
}

/** The first cell of `counts` is for trials below, the last for those above; the upper edge itself is within. */
function count(values: Float64Array, low: number, high: number, perUnit: number, counts: Int32Array): void {
  const cells = counts.length - 2;
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    const at = (value - low) * perUnit;
    if (at >= 0 && at < cells) counts[1 + (at | 0)]!++;
    else if (value < low) counts[0]!++;
    else counts[value <= high ? cells : cells + 1]!++;
  }
}
