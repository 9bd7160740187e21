import { type Draft, drafts } from './evidence-clauses.js';
import type { EvidenceInput } from './evidence-input.js';

/** How far the records answer one clause. */
export type EvidenceState = 'held' | 'named elsewhere' | 'partly held' | 'missing';

/** One item of the evidence index: what a clause asks, in our own words, and what the records hold. */
export interface EvidenceItem {
  readonly clause: string;
  readonly asks: string;
  readonly state: EvidenceState;
  readonly holds: readonly string[];
  /** What the plan says is kept outside these records; the program has not seen it. */
  readonly elsewhere: readonly string[];
  readonly gaps: readonly string[];
}

/** The evidence index, gaps first; within one state by clause. */
export function accreditationEvidence(input: EvidenceInput): EvidenceItem[] {
  const order: readonly EvidenceState[] = ['missing', 'partly held', 'named elsewhere', 'held'];
  return drafts
    .map((draft) => itemOf(draft, input))
    .sort((a, b) => order.indexOf(a.state) - order.indexOf(b.state));
}

function itemOf({ clause, asks, answer }: Draft, input: EvidenceInput): EvidenceItem {
  const { holds, gaps: own, outside: kept = [] } = answer(input);
  const elsewhere = (input.records.plan.evidence ?? [])
    .filter((entry) => entry.clause === clause)
    .map(({ what, keptAt, namedBy, on }) => `${what}: ${keptAt} (${namedBy}, ${on})`);
  const unnamed = elsewhere.length > 0 ? [] : kept;
  const gaps = [
    ...own,
    ...unnamed.map(
      (what) => `${what}: kept outside these records; name the place under evidence in study.json`,
    ),
  ];
  const isEmpty = holds.length === 0 && elsewhere.length === 0;
  const answered: EvidenceState = elsewhere.length > 0 ? 'named elsewhere' : 'held';
  const state = gaps.length === 0 ? answered : isEmpty ? 'missing' : 'partly held';
  return { clause, asks, state, holds, elsewhere, gaps };
}
