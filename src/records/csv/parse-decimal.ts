const powersOfTen = Array.from({ length: 16 }, (_, i) => 10 ** i);
const [minus, point, zero] = [0x2d, 0x2e, 0x30];

/**
 * Number written in bytes as digits with at most one point and a minus sign: `-12.345`. At most 15 digits, so that one
 * division of two exact numbers gives the nearest double. NaN for everything else, which `Number` then reads.
 */
export function parseDecimal(bytes: Uint8Array, start: number, end: number): number {
  let at = start;
  const isNegative = bytes[at] === minus;
  if (isNegative) at++;
  const [first, length] = [at, end - at];
  if (length < 1 || length > 16) return Number.NaN;
  let whole = 0;
  let pointAt = -1;
  for (; at < end; at++) {
    const digit = bytes[at]! - zero;
    if (digit >= 0 && digit <= 9) whole = whole * 10 + digit;
    else if (bytes[at] === point && pointAt < 0) pointAt = at;
    else return Number.NaN;
  }
  const digits = length - (pointAt < 0 ? 0 : 1);
  if (digits < 1 || digits > 15 || pointAt === first) return Number.NaN;
  const value = pointAt < 0 ? whole : whole / powersOfTen[end - 1 - pointAt]!;
  return isNegative && value !== 0 ? -value : value;
}
