import type { Verdict } from '../../validation/finding.js';

/** Shapes in a box of 12 units, drawn with the colour of the text: they differ in form, not in hue. */
const shapes: Readonly<Record<Verdict, string>> = {
  met: '<rect x="1" y="1" width="10" height="10" fill="currentColor"/>',
  'not met':
    '<path d="M1.7 1.7h8.6v8.6h-8.6zM1.7 1.7l8.6 8.6M10.3 1.7l-8.6 8.6" fill="none" stroke="currentColor" stroke-width="1.4"/>',
  'not shown':
    '<path d="M1.7 1.7h8.6v8.6h-8.6z" fill="none" stroke="currentColor" stroke-width="1.4"/><circle cx="6" cy="6" r="1.7" fill="currentColor"/>',
  'no criterion': '<path d="M1 6h10" fill="none" stroke="currentColor" stroke-width="1.6"/>',
  'not studied':
    '<circle cx="6" cy="6" r="4.4" fill="none" stroke="currentColor" stroke-width="1.2" stroke-dasharray="1.8 1.6"/>',
};

/** A verdict by shape and by word, in HTML. */
export function verdictMark(verdict: Verdict): string {
  return (
    `<span class="verdict" data-verdict="${verdict}">` +
    `<svg viewBox="0 0 12 12" width="12" height="12" aria-hidden="true">${shapes[verdict]}</svg>` +
    `<span>${verdict}</span></span>`
  );
}
