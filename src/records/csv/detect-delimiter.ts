const [quote, lineFeed, comma, semicolon, tab] = [0x22, 0x0a, 0x2c, 0x3b, 0x09];

/**
 * Which byte separates the cells of the first row: the only one of comma, semicolon and tab that stands in it outside
 * quotation marks. `none` where none does, `more` where the row is not complete and more bytes may follow.
 */
export function detectDelimiter(
  bytes: Uint8Array,
  start: number,
  isLast: boolean,
): number | 'none' | 'several' | 'more' {
  const found = new Set<number>();
  let isQuoted = false;
  for (let at = start; at < bytes.length; at++) {
    const byte = bytes[at]!;
    if (byte === quote) isQuoted = !isQuoted;
    else if (isQuoted) continue;
    else if (byte === lineFeed) return answer(found);
    else if (byte === comma || byte === semicolon || byte === tab) found.add(byte);
  }
  return isLast ? answer(found) : 'more';
}

function answer(found: ReadonlySet<number>): number | 'none' | 'several' {
  if (found.size > 1) return 'several';
  return [...found][0] ?? 'none';
}
