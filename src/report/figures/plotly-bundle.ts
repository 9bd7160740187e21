import { readFileSync } from 'node:fs';

/** The drawing library as script text, read once a process. */
let text: string | undefined;

/**
 * Text of plotly's cartesian bundle, to be set inline in a page that must work without a network.
 *
 * @throws Error the package is not installed
 */
export function plotlyBundle(): string {
  text ??= readFileSync(require.resolve('plotly.js-cartesian-dist-min/plotly-cartesian.min.js'), 'utf8');
  return text;
}
