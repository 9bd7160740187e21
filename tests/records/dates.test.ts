import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../src/errors.js';
import { dateOf, hoursBetween, hoursOf, isCalendarDate, normaliseDateTime } from '../../src/records/dates.js';

describe('dates', () => {
  it.each(['2024-02-29', '2000-02-29', '1900-01-01', '2025-12-31'])('takes %s', (text) => {
    expect(isCalendarDate(text)).toBe(true);
  });

  it.each([
    '2025-02-29',
    '1900-02-29',
    '2025-04-31',
    '2025-00-10',
    '2025-13-01',
    '2025-01-00',
    '1899-12-31',
    '0099-01-01',
    '2025-1-1',
    '14.03.2025',
    '03/14/2025',
    '20250314',
    '2025-03-14T00:00:00',
    '2025-03-14 ',
    '',
  ])('refuses "%s" as a calendar date', (text) => {
    expect(isCalendarDate(text)).toBe(false);
  });

  it('knows every day of 1900 to 2100 and no other', () => {
    const leap = (year: number) => year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
    const lengths = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
    for (let year = 1900; year <= 2100; year++) {
      const known: number[] = [];
      for (let month = 1; month <= 12; month++) {
        const days = Array.from({ length: 32 }, (_, day) => day);
        const [y, m] = [String(year), String(month).padStart(2, '0')];
        known.push(days.filter((day) => isCalendarDate(`${y}-${m}-${String(day).padStart(2, '0')}`)).length);
      }
      expect(known).toEqual(lengths.map((length, i) => length + (i === 1 && leap(year) ? 1 : 0)));
    }
  });

  it('writes a date and time in one form', () => {
    expect(normaliseDateTime('2025-03-14 09:05')).toBe('2025-03-14T09:05:00');
    expect(normaliseDateTime('2025-03-14T09:05:30.25')).toBe('2025-03-14T09:05:30.25');
    for (const text of [
      '2025-03-14T24:00:00',
      '2025-03-14T09:60:00',
      '2025-03-14T09:05:60',
      '2025-02-30T09:05:00',
      '2025-03-14T09:05:00Z',
      '2025-03-14T09:05:00+01:00',
      '2025-03-14',
    ]) {
      expect(normaliseDateTime(text), text).toBeNull();
    }
  });

  it('counts hours over days, months and leap days, without summer time', () => {
    expect(hoursBetween('2024-02-28T23:00:00', '2024-03-01T01:00:00')).toBe(26);
    expect(hoursBetween('2025-02-28T23:00:00', '2025-03-01T01:00:00')).toBe(2);
    expect(hoursBetween('2025-03-30T00:00:00', '2025-03-31T00:00:00')).toBe(24);
    expect(hoursBetween('2025-03-15', '2025-03-14T12:00:00')).toBe(-12);
    expect(dateOf('2025-03-14T12:00:00')).toBe('2025-03-14');
  });

  it('orders moments as their texts are ordered', () => {
    const moment = fc
      .integer({ min: 0, max: 4e9 })
      .map((seconds) => new Date(seconds * 1000).toISOString().slice(0, 19));
    fc.assert(
      fc.property(moment, moment, (a, b) => Math.sign(hoursBetween(a, b)) === (a < b ? 1 : a > b ? -1 : 0)),
      { seed: 20250314 },
    );
  });

  it('says what it found where it expected a date', () => {
    expect(() => hoursOf('tomorrow')).toThrow(
      new InputError('date: found "tomorrow", expected a date (2025-03-14) or a date and time'),
    );
  });
});
