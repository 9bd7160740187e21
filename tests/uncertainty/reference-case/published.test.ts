import { describe, expect, it } from 'vitest';
import { evaluateReferenceCase } from '../../../src/uncertainty/reference-case/evaluate-reference-case.js';
import type { ReferenceCase } from '../../../src/uncertainty/reference-case/reference-case.js';
import { reference, referenceNames } from '../../support/reference.js';

// Each case names document, edition and clause, and whether its figures were read there or remembered and recomputed.
const calculations = ['budget', 'conformance probability', 'acceptance limit', 'global risk'];
const cases = referenceNames('uncertainty')
  .map((name) => reference<ReferenceCase>(name))
  .filter(({ calculation }) => calculations.includes(calculation));

describe.each(cases)('$source.document $source.clause: $title', (published) => {
  const compared = evaluateReferenceCase(published);
  const exceptions = compared.filter(({ exception }) => exception !== undefined);

  it.each(compared.filter(({ exception }) => exception === undefined))('prints $printed as $name', (row) => {
    if (row.standardError === undefined) expect(row.computed).toRoundTo(row.printed);
    expect(row.agrees).toBe(true);
  });

  it('leaves simulated figures less room than a tenth of their standard uncertainty', () => {
    const u = compared.find(({ name }) => /^u.*simulated/.test(name))?.computed;
    for (const { name, standardError } of compared) {
      if (standardError !== undefined) expect(3 * standardError, name).toBeLessThan(u! / 10);
    }
  });

  it('computes what its exceptions show, not what is printed', () => {
    for (const row of exceptions) {
      expect(row.agrees, row.name).toBe(false);
      expect(row.computed, row.name).toAgreeWithin(row.exception!.computed, 1e-9);
    }
  });

  it('names its source, and an exception for figures it prints only', () => {
    const { document, edition, clause } = published.source;
    expect([document, edition, clause].every((part) => part.length > 0)).toBe(true);
    expect(['document read', 'remembered and recomputed']).toContain(published.figureTakenFrom);
    const names = published.published.map(({ name }) => name);
    expect(new Set(names).size).toBe(names.length);
    expect(exceptions).toHaveLength((published.exceptions ?? []).length);
  });
});
