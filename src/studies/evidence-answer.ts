/** What the records hold for a clause, and what they do not. */
export interface Answer {
  readonly holds: readonly string[];
  readonly gaps: readonly string[];
  /** What no record of a method holds: a gap until the plan names where it is kept. */
  readonly outside?: readonly string[];
}

/** Held where the condition is true, else a gap. */
export function yes(condition: boolean, holds: string, gap: string): Answer {
  return condition ? { holds: [holds], gaps: [] } : { holds: [], gaps: [gap] };
}

/** Gaps alone. */
export function lacking(gaps: readonly string[]): Answer {
  return { holds: [], gaps };
}

/** What several answers say together. */
export function both(...answers: readonly Answer[]): Answer {
  return {
    holds: answers.flatMap((a) => a.holds),
    gaps: answers.flatMap((a) => a.gaps),
    outside: answers.flatMap((a) => a.outside ?? []),
  };
}

/** What is kept outside the records of a method. */
export function outside(what: string): Answer {
  return { holds: [], gaps: [], outside: [what] };
}
