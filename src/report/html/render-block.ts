import type { Block } from '../document.js';
import { escapeHtml } from './escape.js';
import { renderBudgetHtml } from './render-budget.js';
import { renderEquationHtml } from './render-equation.js';
import { figureInPage } from './render-figure.js';
import { renderTableHtml } from './render-table.js';

/** Names and values as a list of definitions. */
export function factsHtml(facts: readonly { readonly name: string; readonly value: string }[]): string {
  const lines = facts.map(
    ({ name, value }) => `<div><dt>${escapeHtml(name)}</dt><dd>${escapeHtml(value)}</dd></div>`,
  );
  return `<dl class="facts">${lines.join('')}</dl>`;
}

function signaturesHtml(roles: readonly string[]): string {
  const lines = roles.map(
    (role) => `<tr><th scope="row">${escapeHtml(role)}</th><td></td><td></td><td></td></tr>`,
  );
  return (
    '<div class="table signatures"><table><caption>To be signed by hand</caption><thead><tr>' +
    '<th scope="col">Role</th><th scope="col">Name</th><th scope="col">Date</th><th scope="col">Signature</th>' +
    `</tr></thead><tbody>${lines.join('')}</tbody></table></div>`
  );
}

/** One block of a section as HTML. */
export function renderBlockHtml(block: Block): string {
  switch (block.kind) {
    case 'paragraph':
      return `<p>${escapeHtml(block.text)}</p>`;
    case 'list':
      return `<ul>${block.items.map((item) => `<li>${escapeHtml(item)}</li>`).join('')}</ul>`;
    case 'facts':
      return factsHtml(block.facts);
    case 'caution':
      return `<p class="caution"><strong>Caution</strong> ${escapeHtml(block.text)}</p>`;
    case 'equation':
      return renderEquationHtml(block.name, block.expression, block.unit);
    case 'signatures':
      return signaturesHtml(block.roles);
    case 'budget':
      return renderBudgetHtml(block.id, block.caption, block.budget, block.target);
    case 'table':
      return renderTableHtml(block);
    case 'figure':
      return figureInPage(block);
  }
}
