/** Milliseconds since 1970 of an ISO date or local date and time, read without a time zone. */
export function instantOf(isoDateOrTime: string): number {
  return Date.parse(isoDateOrTime.includes('T') ? `${isoDateOrTime}Z` : `${isoDateOrTime}T00:00:00Z`);
}

/** The ISO date `days` later. */
export function dateAfter(isoDate: string, days: number): string {
  return new Date(instantOf(isoDate) + days * 86_400_000).toISOString().slice(0, 10);
}

/** ISO date and time, without zone, `seconds` after the start of a day. */
export function timeOfDay(isoDate: string, seconds: number): string {
  return new Date(instantOf(isoDate) + Math.round(seconds) * 1000).toISOString().slice(0, 19);
}

/** Hours from one time to another. */
export function hoursBetween(from: string, to: string): number {
  return (instantOf(to) - instantOf(from)) / 3_600_000;
}
