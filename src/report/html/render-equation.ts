import { escapeHtml } from './escape.js';

/** An equation with its unit, as HTML. */
export function renderEquationHtml(name: string, expression: string, unit: string): string {
  const tail = unit === '' || unit === '1' ? '' : `<span class="unit">${escapeHtml(unit)}</span>`;
  return `<div class="equation"><code>${escapeHtml(`${name} = ${expression}`)}</code>${tail}</div>`;
}
