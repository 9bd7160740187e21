import type { Section } from '../document.js';
import { anchor } from './anchor.js';
import { escapeHtml } from './escape.js';
import { renderBlockHtml } from './render-block.js';

/** A section with its sub-sections as HTML; `number` is its place, such as `3.2`, and gives the level of its heading. */
export function renderSectionHtml(section: Section, number: string): string {
  const level = Math.min(6, number.split('.').length + 1);
  const clause = section.clause === '' ? '' : `<span class="clause">${escapeHtml(section.clause)}</span>`;
  const page = section.startsPage === true ? ' class="starts-page"' : '';
  const below = section.sections.map((inner, index) => renderSectionHtml(inner, `${number}.${index + 1}`));
  return (
    `<section id="${anchor(section.id)}"${page}>` +
    `<h${level}><span class="place">${number}</span> ${escapeHtml(section.heading)}${clause}</h${level}>\n` +
    `${section.blocks.map(renderBlockHtml).join('\n')}\n${below.join('\n')}</section>`
  );
}

/** Table of contents over two levels of sections, as nested lists of links. */
export function contentsHtml(sections: readonly Section[]): string {
  const entry = (section: Section, number: string, inner: string): string =>
    `<li><a href="#${anchor(section.id)}"><span class="place">${number}</span> ${escapeHtml(section.heading)}</a>${inner}</li>`;
  const items = sections.map((section, index) => {
    const below = section.sections.map((inner, place) => entry(inner, `${index + 1}.${place + 1}`, ''));
    return entry(section, `${index + 1}`, below.length === 0 ? '' : `<ol>${below.join('')}</ol>`);
  });
  return `<nav aria-labelledby="contents-heading"><h2 id="contents-heading">Contents</h2><ol>${items.join('\n')}</ol></nav>`;
}
