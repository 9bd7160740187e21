/**
 * A function of numbers and names that is dear to compute, with its values kept. The values kept never exceed 1000.
 *
 * @example
 * remembered((x) => x * x)(3) // => 9
 */
export function remembered<A extends readonly (number | string)[]>(
  f: (...values: A) => number,
): (...values: A) => number {
  const known = new Map<string, number>();
  return (...values) => {
    const key = values.join('|');
    const found = known.get(key);
    if (found !== undefined) return found;
    const value = f(...values);
    if (known.size >= 1000) known.clear();
    known.set(key, value);
    return value;
  };
}
