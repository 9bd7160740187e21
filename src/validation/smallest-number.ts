/**
 * Smallest whole number from `least` to `most` that does, for a property that holds for all numbers beyond the first one that has
 * it: by doubling and bisection.
 *
 * @returns null where `most` does not do either
 * @example
 * smallestNumber(2, 1000, (n) => n * n >= 50) // => 8
 */
export function smallestNumber(least: number, most: number, does: (n: number) => boolean): number | null {
  if (does(least)) return least;
  let low = least;
  let high = Math.min(most, 2 * least);
  while (!does(high)) {
    if (high === most) return null;
    low = high;
    high = Math.min(most, 2 * high);
  }
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (does(middle)) high = middle;
    else low = middle;
  }
  return high;
}
