import { expect } from 'vitest';
import { type PublishedExample, readReference } from '../support/reference-sets.js';

/** Printed figures by name. */
export type Figures = Readonly<Record<string, string>>;

/**
 * Holds computed figures against a published example kept in data/reference/statistics: every printed figure to half a
 * unit of its last digit, but for those that exact arithmetic does not give; there the exact value, and that it does
 * differ from the printed one.
 */
export function expectPublished<Inputs>(
  name: string,
  compute: (inputs: Inputs, figure: string) => number,
  relative = 1e-10,
): void {
  const example = readReference<PublishedExample<Inputs, Figures>>(`statistics/${name}`);
  const figures = Object.entries(example.published);
  expect(figures.length).toBeGreaterThan(0);
  for (const [figure, printed] of figures) {
    expect(compute(example.inputs, figure), `${name}: ${figure}`).toRoundTo(printed);
  }
  for (const [figure, { printed, exact }] of Object.entries(example.notReproduced ?? {})) {
    const found = compute(example.inputs, figure);
    expect(found, `${name}: ${figure}`).toAgreeWithin(exact, relative);
    expect(found, `${name}: ${figure}`).not.toRoundTo(printed);
  }
}
