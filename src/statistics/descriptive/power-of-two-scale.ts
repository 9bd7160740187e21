/**
 * Power of two that brings the largest magnitude near 1 where sums of fourth powers would leave the range of double
 * precision; 1 for data of ordinary size. Multiplying by it rounds nothing.
 *
 * @example
 * powerOfTwoScale([3, -400]) // => 1
 */
export function powerOfTwoScale(values: ArrayLike<number>): number {
  let largest = 0;
  for (let i = 0; i < values.length; i++) largest = Math.max(largest, Math.abs(values[i]!));
  if (largest === 0 || (largest > 1e-50 && largest < 1e50)) return 1;
  const exponent = Math.max(-1000, Math.min(1000, Math.floor(Math.log2(largest))));
  return 2 ** -exponent;
}
