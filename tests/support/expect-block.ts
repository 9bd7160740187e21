import { expect } from 'vitest';
import type { Json } from './reference-sets.js';

/** A computed counterpart of a reference block: the same keys, numbers in the same places. */
export type Computed =
  | null
  | boolean
  | number
  | string
  | readonly Computed[]
  | { readonly [key: string]: Computed };

/** How far a leaf may be off. */
export interface Agreement {
  readonly relative: number;
  /** Absolute allowance added to the relative one, for leaves near 0 on a known scale. */
  readonly absolute?: number;
}

/**
 * Every leaf of a reference block must have a computed counterpart that agrees; only the words in `how` are passed over.
 * `agreement` picks the allowance by the path of the leaf.
 */
export function expectBlock(
  reference: Json,
  computed: Computed | undefined,
  agreement: (path: string) => Agreement,
  path = '',
): void {
  if (reference === null || typeof reference !== 'object') {
    expectLeaf(reference, computed, agreement(path), path);
    return;
  }
  expect(computed !== null && typeof computed === 'object', `${path}: not computed`).toBe(true);
  const found = computed as { readonly [key: string]: Computed };
  if (Array.isArray(reference)) expect((computed as readonly Computed[]).length, path).toBe(reference.length);
  for (const [key, value] of Object.entries(reference)) {
    if (key !== 'how') expectBlock(value, found[key], agreement, path === '' ? key : `${path}/${key}`);
  }
}

function expectLeaf(
  reference: null | boolean | number | string,
  computed: Computed | undefined,
  allowed: Agreement,
  path: string,
): void {
  if (typeof reference !== 'number') {
    expect(computed, path).toBe(reference);
    return;
  }
  expect(typeof computed, `${path}: not computed`).toBe('number');
  const error = Math.abs((computed as number) - reference);
  const bound = allowed.relative * Math.abs(reference) + (allowed.absolute ?? 0);
  expect(
    error <= bound,
    `${path}: ${computed as number} against ${reference}, error ${error}, allowed ${bound}`,
  ).toBe(true);
}
