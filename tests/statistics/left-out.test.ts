import { describe, expect, it } from 'vitest';
import { reference, referenceNames } from '../support/reference.js';
import type { PublishedExample } from '../support/reference-sets.js';

describe('published examples of statistics', () => {
  it('leave out no printed figure but those named here, each with its reason', () => {
    const found = referenceNames('statistics')
      .filter((name) => name !== 'statistics/distributions')
      .flatMap((name) => {
        const { leftOut = {} } = reference<PublishedExample<unknown, unknown>>(name);
        return Object.entries(leftOut).map(([figure, { printed, why }]) => {
          expect(why.length, `${name}: ${figure}`).toBeGreaterThan(20);
          return `${name.replace('statistics/', '')}: ${figure} ${printed}`;
        });
      });
    expect(found).toEqual([
      'venables-robust-copper-nickel: chem_huber_mu 3.2067',
      'venables-robust-copper-nickel: abbey_huber_mu 11.551',
    ]);
  });

  it('name document, clause, and whether the figure was read or remembered', () => {
    const examples = referenceNames('statistics').map((name) => ({
      name,
      ...reference<PublishedExample<unknown, unknown>>(name),
    }));
    const published = examples.filter((example) => example.published !== undefined);
    expect(published.length).toBeGreaterThan(30);
    for (const { name, source, figureTakenFrom } of published) {
      expect(source.document, name).not.toBe('');
      expect(source.clause, name).not.toBe('');
      expect(['document read', 'remembered and recomputed'], name).toContain(figureTakenFrom);
    }
  });
});
