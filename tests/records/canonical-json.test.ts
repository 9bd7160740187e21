import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { canonicalJson } from '../../src/records/canonical-json.js';
import { sha256 } from '../../src/records/checksum.js';

/** The same value with the keys of every object in the opposite order. */
function reordered(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(reordered);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value)
      .reverse()
      .map(([key, each]) => [key, reordered(each)]),
  );
}

describe('canonicalJson', () => {
  it('depends on the value, not on the order of keys, and loses nothing', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (value) => {
        const text = canonicalJson(value);
        expect(canonicalJson(reordered(value))).toBe(text);
        expect(JSON.parse(text)).toEqual(JSON.parse(JSON.stringify(value)));
      }),
      { numRuns: 500 },
    );
  });

  it('sorts keys by their UTF-16 code units at every depth', () => {
    expect(canonicalJson({ é: 1, b: { z: 1, A: 2 }, '10': 1, '9': 1, '😀': 1, '\uFB33': 1 })).toBe(
      '{"10":1,"9":1,"b":{"A":2,"z":1},"é":1,"😀":1,"\uFB33":1}',
    );
  });

  it('leaves out keys without a value, and refuses what JSON cannot hold', () => {
    expect(canonicalJson({ a: undefined, b: null })).toBe('{"b":null}');
    expect(() => canonicalJson({ a: [1, { b: Number.NaN }] })).toThrow('at .a[1].b: found NaN');
    for (const value of [Infinity, undefined, [undefined], 1n, new Date(0), new Map(), () => 1]) {
      expect(() => canonicalJson(value)).toThrow('expected a value JSON can hold');
    }
  });
});

describe('sha256', () => {
  // FIPS 180-4 examples, as published with the standard; remembered and recomputed.
  it.each([
    ['', 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855'],
    ['abc', 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'],
    [
      'abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq',
      '248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1',
    ],
  ])('of "%s" is the published one', (text, digest) => {
    expect(sha256(text)).toBe(digest);
    expect(sha256(new TextEncoder().encode(text))).toBe(digest);
  });
});
