const powersOfTen = Array.from({ length: 16 }, (_, i) => 10 ** i);
const [minus, point, zero] = [0x2d, 0x2e, 0x30];

const one = new Float64Array(1);

/**
 * Number written in bytes as digits with at most one decimal mark and a minus sign: `-12.345`. At most 15 digits, so that
 * one division of two exact numbers gives the nearest double. NaN for everything else, which `Number` then reads.
 *
 * @param mark byte of the decimal mark
 */
export function parseDecimal(bytes: Uint8Array, start: number, end: number, mark: number = point): number {
  putDecimal(bytes, start, end, mark, one, 0);
  return one[0]!;
}

/** Puts the number of `parseDecimal` into an array: one that a function returns takes memory of its own. */
export function putDecimal(
  bytes: Uint8Array,
  start: number,
  end: number,
  mark: number,
  values: Float64Array,
  at: number,
): void {
  const sign = bytes[start] === minus ? -1 : 1;
  const first = sign < 0 ? start + 1 : start;
  const length = end - first;
  // Up to nine digits a 32-bit integer holds them, which is faster to add up.
  if (length <= 9) putShort(bytes, first, end, mark, sign, values, at);
  else putLong(bytes, first, end, length, mark, sign, values, at);
}

function putShort(
  bytes: Uint8Array,
  start: number,
  end: number,
  mark: number,
  sign: number,
  values: Float64Array,
  place: number,
): void {
  values[place] = Number.NaN;
  let whole = 0;
  let at = start;
  for (; at < end; at++) {
    const digit = bytes[at]! - zero;
    if (digit < 0 || digit > 9) break;
    whole = (Math.imul(whole, 10) + digit) | 0;
  }
  if (at === start) return;
  let decimals = 0;
  if (at < end) {
    if (bytes[at] !== mark) return;
    decimals = end - 1 - at;
    for (at++; at < end; at++) {
      const digit = bytes[at]! - zero;
      if (digit < 0 || digit > 9) return;
      whole = (Math.imul(whole, 10) + digit) | 0;
    }
  }
  // An integer product gives no negative zero.
  values[place] = Math.imul(sign, whole) / powersOfTen[decimals]!;
}

function putLong(
  bytes: Uint8Array,
  start: number,
  end: number,
  length: number,
  mark: number,
  sign: number,
  values: Float64Array,
  place: number,
): void {
  values[place] = Number.NaN;
  if (length > 16) return;
  let whole = 0;
  let markAt = -1;
  for (let at = start; at < end; at++) {
    const digit = bytes[at]! - zero;
    if (digit >= 0 && digit <= 9) whole = whole * 10 + digit;
    else if (bytes[at] === mark && markAt < 0) markAt = at;
    else return;
  }
  if (length - (markAt < 0 ? 0 : 1) > 15 || markAt === start) return;
  const value = markAt < 0 ? whole : whole / powersOfTen[end - 1 - markAt]!;
  values[place] = sign < 0 && value !== 0 ? -value : value;
}
