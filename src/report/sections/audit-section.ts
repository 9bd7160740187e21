import { column, text } from '../cells.js';
import type { Section } from '../document.js';
import type { Audit } from '../issue/audit.js';
import { listOf, paragraph, sectionOf } from '../section-of.js';

/** Outcome of an audit of issues and ledger, problems by file or line. */
export function auditSection({ issues, head, problems, interrupted, unissued }: Audit): Section {
  const outcome =
    problems.length === 0
      ? `All ${issues} issues of the ledger are as they were written.`
      : `${problems.length} problem(s) in ${issues} issues.`;
  return sectionOf({
    id: 'audit',
    heading: 'Audit of issues and ledger',
    clause: 'ISO/IEC 17025:2017, 7.11.3, 8.4.2',
    blocks: [
      paragraph(outcome),
      ...(problems.length === 0
        ? []
        : [
            {
              kind: 'table',
              id: 'audit/problems',
              caption: 'What does not hold',
              columns: [column('Place'), column('Found'), column('Expected')],
              rows: problems.map(({ place, found, expected }) => [text(place), text(found), text(expected)]),
              notes: [],
            } as const,
          ]),
      {
        kind: 'facts',
        facts: [{ name: 'SHA-256 of the last line, to be noted elsewhere', value: head }],
      },
      ...listOf([
        ...interrupted.map((place) => `${place} was interrupted; the next run finishes or removes it.`),
        ...unissued.map((place) => `${place} was not issued and is no evidence.`),
      ]),
    ],
  });
}
