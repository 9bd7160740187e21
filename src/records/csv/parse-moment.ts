import { isCalendarDate } from '../dates.js';

const [dash, colon, blank, capitalT, point, zero] = [0x2d, 0x3a, 0x20, 0x54, 0x2e, 0x30];

/** A date and time read from bytes. */
export interface Moment {
  /** Since 1970-01-01T00:00, local and without zone. */
  milliseconds: number;
  /** Decimals of the second that were written, 0 to 3. */
  decimals: number;
}

/** Reads dates and times of one form (`2025-03-14T09:05:00`); many rows share a day, which is looked up once. */
export class MomentParser {
  readonly #day = new Uint8Array(10);
  #dayMilliseconds = Number.NaN;

  /** Fills `moment`; false for bytes that are no date and time, or one that is written otherwise. */
  parse(bytes: Uint8Array, start: number, end: number, moment: Moment): boolean {
    const length = end - start;
    const separator = bytes[start + 10];
    if (length < 16 || length > 23 || (separator !== capitalT && separator !== blank)) return false;
    if (!this.#isSameDay(bytes, start) && !this.#takeDay(bytes, start)) return false;
    const hours = twoDigits(bytes, start + 11);
    const minutes = twoDigits(bytes, start + 14);
    if (bytes[start + 13] !== colon || !(hours <= 23 && minutes <= 59)) return false;
    let milliseconds = 0;
    let decimals = 0;
    if (length > 16) {
      const seconds = length < 19 || bytes[start + 16] !== colon ? 99 : twoDigits(bytes, start + 17);
      if (seconds > 59 || length === 20 || (length > 20 && bytes[start + 19] !== point)) return false;
      milliseconds = seconds * 1000;
      decimals = Math.max(0, length - 20);
      for (let i = 0, weight = 100; i < decimals; i++, weight /= 10) {
        const digit = bytes[start + 20 + i]! - zero;
        if (digit < 0 || digit > 9) return false;
        milliseconds += digit * weight;
      }
    }
    moment.milliseconds = this.#dayMilliseconds + hours * 3_600_000 + minutes * 60_000 + milliseconds;
    moment.decimals = decimals;
    return true;
  }

  #isSameDay(bytes: Uint8Array, start: number): boolean {
    for (let i = 9; i >= 0; i--) if (this.#day[i] !== bytes[start + i]) return false;
    return true;
  }

  #takeDay(bytes: Uint8Array, start: number): boolean {
    if (bytes[start + 4] !== dash || bytes[start + 7] !== dash) return false;
    const day = String.fromCharCode(...bytes.subarray(start, start + 10));
    if (!isCalendarDate(day)) return false;
    this.#day.set(bytes.subarray(start, start + 10));
    this.#dayMilliseconds = Date.UTC(
      Number(day.slice(0, 4)),
      Number(day.slice(5, 7)) - 1,
      Number(day.slice(8)),
    );
    return true;
  }
}

/** Number of two digits, 99 for anything else. */
function twoDigits(bytes: Uint8Array, at: number): number {
  const tens = bytes[at]! - zero;
  const ones = bytes[at + 1]! - zero;
  return tens >= 0 && tens <= 9 && ones >= 0 && ones <= 9 ? tens * 10 + ones : 99;
}

const dayMilliseconds = 86_400_000;

/** Writes dates and times in the one form records use. */
export class MomentWriter {
  readonly #bytes = Buffer.from('1970-01-01T00:00:00.000', 'latin1');
  #day = 0;
  #last = 0;
  #lastDecimals = 0;
  #text = '1970-01-01T00:00:00';

  /**
   * @param milliseconds since 1970-01-01T00:00, local and without zone
   * @param decimals of the second, 0 to 3
   */
  text(milliseconds: number, decimals: number): string {
    if (milliseconds === this.#last && decimals === this.#lastDecimals) return this.#text;
    const day = Math.floor(milliseconds / dayMilliseconds);
    if (day !== this.#day) {
      this.#bytes.write(new Date(day * dayMilliseconds).toISOString().slice(0, 10), 'latin1');
      this.#day = day;
    }
    const rest = milliseconds - day * dayMilliseconds;
    this.#digits(11, 2, Math.floor(rest / 3_600_000));
    this.#digits(14, 2, Math.floor(rest / 60_000) % 60);
    this.#digits(17, 2, Math.floor(rest / 1000) % 60);
    this.#digits(20, 3, rest % 1000);
    [this.#last, this.#lastDecimals] = [milliseconds, decimals];
    this.#text = this.#bytes.toString('latin1', 0, decimals === 0 ? 19 : 20 + decimals);
    return this.#text;
  }

  #digits(at: number, count: number, value: number): void {
    for (let i = at + count - 1, left = value; i >= at; i--, left = Math.floor(left / 10)) {
      this.#bytes[i] = zero + (left % 10);
    }
  }
}
