/** What a number may be. Without any bound every finite number will do. */
export interface Bounds {
  readonly above?: number;
  readonly below?: number;
  readonly atLeast?: number;
  readonly atMost?: number;
}

/** True for a finite number inside the bounds. */
export function withinBounds(value: number, bounds: Bounds): boolean {
  return (
    Number.isFinite(value) &&
    (bounds.above === undefined || value > bounds.above) &&
    (bounds.below === undefined || value < bounds.below) &&
    (bounds.atLeast === undefined || value >= bounds.atLeast) &&
    (bounds.atMost === undefined || value <= bounds.atMost)
  );
}

/**
 * Says in words what is expected.
 * @example
 * boundsWording('a number', { above: 0, atMost: 100 }) // => 'a number above 0 and at most 100'
 */
export function boundsWording(noun: string, bounds: Bounds): string {
  const parts = [
    bounds.above === undefined ? '' : `above ${bounds.above}`,
    bounds.atLeast === undefined ? '' : `of at least ${bounds.atLeast}`,
    bounds.below === undefined ? '' : `below ${bounds.below}`,
    bounds.atMost === undefined ? '' : `at most ${bounds.atMost}`,
  ].filter((part) => part !== '');
  return parts.length === 0 ? noun : `${noun} ${parts.join(' and ')}`;
}
