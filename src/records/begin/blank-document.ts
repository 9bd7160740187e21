/**
 * A document with every value to be filled in: texts empty, numbers and truth values null, lists with one entry.
 * What is kept is named in `kept`: keys whose value is the same for every study.
 */
export function blankDocument(example: unknown, kept: readonly string[] = []): unknown {
  if (Array.isArray(example)) return example.length === 0 ? [] : [blankDocument(example[0], kept)];
  if (typeof example === 'object' && example !== null) {
    return Object.fromEntries(
      Object.entries(example).map(([key, value]) => [
        key,
        kept.includes(key) ? value : blankDocument(value, kept),
      ]),
    );
  }
  return typeof example === 'string' ? '' : null;
}
