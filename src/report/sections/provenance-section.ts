import type { Section } from '../document.js';
import { listOf, sectionOf } from '../section-of.js';

/** Where a report comes from; clock values stand here only. */
export interface Provenance {
  /** Issue as `study/number`, empty before it has one. */
  readonly issue: string;
  readonly created: string;
  readonly versions: Readonly<Record<string, string>>;
  readonly seed: number | null;
  readonly parameters: Readonly<Record<string, unknown>>;
  readonly notes: readonly string[];
}

/** Versions, seed, parameters and time: what a repetition needs. */
export function provenanceSection({
  issue,
  created,
  versions,
  seed,
  parameters,
  notes,
}: Provenance): Section {
  return sectionOf({
    id: 'provenance',
    heading: 'Provenance',
    clause: 'ISO/IEC 17025:2017, 7.5.1, 7.11',
    blocks: [
      {
        kind: 'facts',
        facts: [
          ...(issue === '' ? [] : [{ name: 'Issue', value: issue }]),
          { name: 'Created', value: created },
          ...Object.entries(versions).map(([name, value]) => ({ name, value })),
          { name: 'Seed', value: seed === null ? 'none: nothing is drawn' : String(seed) },
          ...Object.entries(parameters).map(([name, value]) => ({
            name: `Parameter ${name}`,
            value: typeof value === 'string' ? value : JSON.stringify(value),
          })),
        ],
      },
      ...listOf(notes),
    ],
  });
}
