import { InputError } from '../errors.js';

const datePattern = /^(\d{4})-(\d{2})-(\d{2})$/;
const timePattern = /^(\d{4}-\d{2}-\d{2})[T ](\d{2}):(\d{2})(?::(\d{2}(?:\.\d{1,3})?))?$/;

/** Days since 1970-01-01 of a calendar date, NaN for a text that is none (such as 2025-02-30). */
function dayNumber(text: string): number {
  const match = datePattern.exec(text);
  if (match === null) return Number.NaN;
  const [year, month, day] = [Number(match[1]), Number(match[2]), Number(match[3])];
  const milliseconds = Date.UTC(year, month - 1, day);
  const back = new Date(milliseconds);
  const isSame = back.getUTCMonth() === month - 1 && back.getUTCDate() === day && year >= 1900;
  return isSame ? milliseconds / 86_400_000 : Number.NaN;
}

/**
 * True for a date of the calendar written as year-month-day, from 1900 on.
 * @example
 * isCalendarDate('2024-02-29') // => true
 * isCalendarDate('2025-02-29') // => false
 */
export function isCalendarDate(text: string): boolean {
  return Number.isFinite(dayNumber(text));
}

/**
 * Date and time in the one form records use (`2025-03-14T09:05:00`), or `null` for a text that is none.
 * A blank may stand for the `T`; seconds may be left out. Local time, without zone.
 * @example
 * normaliseDateTime('2025-03-14 09:05') // => '2025-03-14T09:05:00'
 * normaliseDateTime('2025-03-14T25:00') // => null
 */
export function normaliseDateTime(text: string): string | null {
  const match = timePattern.exec(text);
  if (match === null || !isCalendarDate(match[1]!)) return null;
  const seconds = match[4] ?? '00';
  if (Number(match[2]) > 23 || Number(match[3]) > 59 || Number(seconds) >= 60) return null;
  return `${match[1]}T${match[2]}:${match[3]}:${seconds}`;
}

/**
 * Hours since 1970-01-01T00:00 of a date or a date and time, both local and without zone; a date counts as its midnight.
 * @throws InputError the text is neither
 * @example
 * hoursOf('1970-01-02T06:30:00') // => 30.5
 */
export function hoursOf(text: string): number {
  const day = dayNumber(text);
  if (Number.isFinite(day)) return day * 24;
  const time = normaliseDateTime(text);
  if (time === null) {
    throw new InputError(`date: found "${text}", expected a date (2025-03-14) or a date and time`);
  }
  const [hours, minutes, seconds] = time.slice(11).split(':').map(Number);
  return dayNumber(time.slice(0, 10)) * 24 + hours! + minutes! / 60 + seconds! / 3600;
}

/**
 * Hours from the first moment to the second; negative where the second is earlier.
 * @throws InputError a text that is no date
 * @example
 * hoursBetween('2025-03-14T09:00:00', '2025-03-15T10:30:00') // => 25.5
 */
export function hoursBetween(from: string, to: string): number {
  return hoursOf(to) - hoursOf(from);
}

/**
 * Calendar date of a date and time.
 * @example
 * dateOf('2025-03-14T09:00:00') // => '2025-03-14'
 */
export function dateOf(dateTime: string): string {
  return dateTime.slice(0, 10);
}

/**
 * Date and time in the one form records use, from milliseconds since 1970-01-01T00:00 (local, without zone).
 * @example
 * momentText(1741943100000) // => '2025-03-14T09:05:00'
 */
export function momentText(milliseconds: number): string {
  return new Date(milliseconds).toISOString().slice(0, 19);
}
