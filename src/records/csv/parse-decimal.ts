const powersOfTen = Array.from({ length: 16 }, (_, i) => 10 ** i);
const [minus, point, zero] = [0x2d, 0x2e, 0x30];

/**
 * Number written in bytes as digits with at most one decimal mark and a minus sign: `-12.345`. At most 15 digits, so that
 * one division of two exact numbers gives the nearest double. NaN for everything else, which `Number` then reads.
 *
 * @param mark byte of the decimal mark
 */
export function parseDecimal(bytes: Uint8Array, start: number, end: number, mark: number = point): number {
  const isNegative = bytes[start] === minus;
  const first = isNegative ? start + 1 : start;
  const length = end - first;
  // Up to nine digits a 32-bit integer holds them, which is faster to add up.
  const value =
    length <= 9 ? shortDecimal(bytes, first, end, mark) : longDecimal(bytes, first, end, length, mark);
  return isNegative && value !== 0 ? -value : value;
}

function shortDecimal(bytes: Uint8Array, start: number, end: number, mark: number): number {
  let whole = 0;
  let at = start;
  for (; at < end; at++) {
    const digit = bytes[at]! - zero;
    if (digit < 0 || digit > 9) break;
    whole = (Math.imul(whole, 10) + digit) | 0;
  }
  if (at === start) return Number.NaN;
  if (at === end) return whole;
  if (bytes[at] !== mark) return Number.NaN;
  const decimals = end - 1 - at;
  for (at++; at < end; at++) {
    const digit = bytes[at]! - zero;
    if (digit < 0 || digit > 9) return Number.NaN;
    whole = (Math.imul(whole, 10) + digit) | 0;
  }
  return whole / powersOfTen[decimals]!;
}

function longDecimal(bytes: Uint8Array, start: number, end: number, length: number, mark: number): number {
  if (length > 16) return Number.NaN;
  let whole = 0;
  let markAt = -1;
  for (let at = start; at < end; at++) {
    const digit = bytes[at]! - zero;
    if (digit >= 0 && digit <= 9) whole = whole * 10 + digit;
    else if (bytes[at] === mark && markAt < 0) markAt = at;
    else return Number.NaN;
  }
  if (length - (markAt < 0 ? 0 : 1) > 15 || markAt === start) return Number.NaN;
  return markAt < 0 ? whole : whole / powersOfTen[end - 1 - markAt]!;
}
