import type { PersonRecord } from '../../records/study.js';
import { column, countCell, text } from '../cells.js';
import type { Cell, Section } from '../document.js';
import { listOf, sectionOf } from '../section-of.js';

/** Work of one person, from the records. */
export interface WorkDone {
  readonly name: string;
  readonly digestions: number;
  /** ISO dates. */
  readonly firstDay: string;
  readonly lastDay: string;
}

/**
 * Who did how much and from when to when, counted from the digestions.
 *
 * @param digestions operator and ISO date of each
 * @returns in order of first appearance
 * @example
 * workDone([{ operator: 'A', day: '2026-03-02' }, { operator: 'A', day: '2026-03-01' }])[0]?.firstDay // => "2026-03-01"
 */
export function workDone(
  digestions: readonly { readonly operator: string; readonly day: string }[],
): WorkDone[] {
  const names = [...new Set(digestions.map(({ operator }) => operator))];
  return names.map((name) => {
    const days = digestions
      .filter(({ operator }) => operator === name)
      .map(({ day }) => day)
      .sort();
    return { name, digestions: days.length, firstDay: days[0] ?? '', lastDay: days.at(-1) ?? '' };
  });
}

function concerns(people: readonly PersonRecord[], work: readonly WorkDone[]): string[] {
  return work.flatMap(({ name, firstDay }) => {
    const person = people.find((entry) => entry.name === name);
    if (person === undefined) return [`${name} did digestions; no authorisation is recorded.`];
    return person.since <= firstDay
      ? []
      : [`${name} worked from ${firstDay}; authorised since ${person.since}.`];
  });
}

function row(person: PersonRecord, work: readonly WorkDone[]): Cell[] {
  const own = work.find(({ name }) => name === person.name);
  return [
    text(person.name),
    text(person.role),
    text(person.authorisedFor),
    text(person.authorisedBy),
    text(person.since),
    countCell(own?.digestions ?? 0),
    text(own === undefined ? '' : `${own.firstDay} to ${own.lastDay}`),
  ];
}

/**
 * Who did what, under which authorisation. Work without authorisation, or before it, is named.
 *
 * @see ISO/IEC 17025:2017, 6.2.6
 */
export function peopleSection(people: readonly PersonRecord[], work: readonly WorkDone[]): Section {
  return sectionOf({
    id: 'people',
    heading: 'People and authorisations',
    clause: 'ISO/IEC 17025:2017, 6.2.6',
    blocks: [
      {
        kind: 'table',
        id: 'people/authorisations',
        caption: 'People, authorisations and work',
        columns: [
          column('Name'),
          column('Role'),
          column('Authorised for'),
          column('By'),
          column('Since'),
          column('Digestions'),
          column('Days'),
        ],
        rows: people.map((person) => row(person, work)),
        notes: [],
      },
      ...listOf(concerns(people, work)),
    ],
  });
}
