import type { Block, Section } from './document.js';

/** What a section is made of; clause and sub-sections may be left out. */
export interface SectionParts {
  readonly id: string;
  readonly heading: string;
  readonly clause?: string;
  readonly blocks: readonly Block[];
  readonly sections?: readonly Section[];
  readonly startsPage?: boolean;
}

/** A section with the parts that were left out filled in. */
export function sectionOf({
  id,
  heading,
  clause = '',
  blocks,
  sections = [],
  startsPage = false,
}: SectionParts): Section {
  return { id, heading, clause, blocks, sections, startsPage };
}

/** A paragraph. */
export function paragraph(text: string): Block {
  return { kind: 'paragraph', text };
}

/** A list, or nothing where there are no items. */
export function listOf(items: readonly string[]): Block[] {
  return items.length === 0 ? [] : [{ kind: 'list', items }];
}
