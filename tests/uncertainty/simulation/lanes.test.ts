import { afterEach, describe, expect, it, vi } from 'vitest';
import { streamKey } from '../../../src/uncertainty/simulation/draws/block-stream.js';
import { FourLanes, mostTrials } from '../../../src/uncertainty/simulation/draws/lanes/four-lanes.js';
import { fourLanesModule } from '../../../src/uncertainty/simulation/draws/lanes/four-lanes-module.js';
import { groupDraw } from '../../../src/uncertainty/simulation/draws/lanes/stream-fills.js';
import { normalZiggurat } from '../../../src/uncertainty/simulation/draws/normal-deviates.js';
import { studentTZiggurat } from '../../../src/uncertainty/simulation/draws/student-t-deviates.js';
import type { Ziggurat } from '../../../src/uncertainty/simulation/draws/ziggurat.js';
import { assembleFourLanes } from '../../support/assemble-four-lanes.mjs';
import { input } from '../../support/input.js';
import { model } from '../../support/model.js';

const densities: Record<string, Ziggurat | null> = {
  normal: normalZiggurat,
  't of 2.5': studentTZiggurat(2.5),
  't of 9': studentTZiggurat(9),
  't of 0.7': studentTZiggurat(0.7),
};
const names = Object.keys(densities);

/** A group of fills from streams of their own; each call makes new columns. */
const group = (seed: number, kinds: readonly (string | null)[], n: number) =>
  kinds.map((kind, k) => ({
    key: streamKey(seed, 'lane', k),
    state: new Uint32Array(4),
    column: new Float64Array(n),
    centre: k - 1.25,
    factor: 0.1 + 3 * k,
    ziggurat: kind === null ? null : densities[kind]!,
  }));

/** Blocks whose columns or states differ between both ways to draw them. */
function differences(kinds: readonly (string | null)[], n: number, blocks: number, seed: number): number {
  const [one, other] = [group(seed, kinds, n), group(seed, kinds, n)];
  const [inLanes, alone] = [groupDraw(one, FourLanes.open()), groupDraw(other, null)];
  const bitsOf = ({ column, state }: (typeof one)[number]) => [
    Buffer.from(column.buffer).toString('base64'),
    ...state,
  ];
  let differing = 0;
  for (let block = 0; block < blocks; block++) {
    inLanes(block);
    alone(block);
    if (JSON.stringify(one.map(bitsOf)) !== JSON.stringify(other.map(bitsOf))) differing++;
  }
  return differing;
}

describe('draws from four streams at once', () => {
  it('are what their source assembles to', async () => {
    expect(fourLanesModule).toBe(await assembleFourLanes());
  });

  it.each([1, 2, 3, 4])(
    'give the bits of single streams, %i together, rare deviates and tails included',
    (size) => {
      for (const n of [2, 31, 32, 2000, mostTrials]) {
        for (const kind of names) {
          expect(differences(new Array<string>(size).fill(kind), n, 20, 17 * n + size)).toBe(0);
        }
        expect(differences(new Array<null>(size).fill(null), n, 20, n)).toBe(0);
      }
    },
  );

  it('give the bits of single streams for densities side by side, whatever stood in their tables before', () => {
    const four = FourLanes.open()!;
    for (let first = 0; first < 40; first++) {
      const kinds = [0, 1, 2, 3].map((k) => names[(first * (k + 1) + (first >> 2)) % names.length]!);
      const [one, other] = [group(first, kinds, 2000), group(first, kinds, 2000)];
      groupDraw(one, four)(first);
      groupDraw(other, null)(first);
      expect(one.map(({ column }) => column)).toEqual(other.map(({ column }) => column));
    }
  });

  it('reach the tails: of two million normal deviates some lie beyond the last layer', () => {
    const fills = group(5, ['normal', 'normal', 'normal', 'normal'], 2000);
    const draw = groupDraw(fills, FourLanes.open());
    let beyond = 0;
    for (let block = 0; block < 250; block++) {
      draw(block);
      fills.forEach(({ column, centre, factor }) => {
        for (const x of column) if (Math.abs(x - centre) > 3.6541528853610088 * factor) beyond++;
      });
    }
    // 2e6 trials with probability 2.58e-4: 516 ± 23.
    expect(beyond).toBeGreaterThan(516 - 5 * 23);
    expect(beyond).toBeLessThan(516 + 5 * 23);
  });

  it('take the longest block, and leave a longer one to single streams', () => {
    expect(differences(['normal', 'normal'], mostTrials + 1, 3, 1)).toBe(0);
  });
});

describe('where there is no WebAssembly', () => {
  afterEach(() => {
    vi.unstubAllGlobals();
    vi.resetModules();
  });

  const quantities = ['a', 'b', 'c', 'd', 'e'].map((name, i) => input(name, i + 1, 0.1));

  async function outcome() {
    vi.resetModules();
    const { simulateInThread } = await import('../../../src/uncertainty/simulation/simulate.js');
    const budget = model({ y: 'a*b + c/d - e' });
    return JSON.stringify(simulateInThread(budget, quantities, [], { seed: 3, trials: 10_000 }));
  }

  it('nothing is opened', () => {
    vi.stubGlobal('WebAssembly', undefined);
    expect(FourLanes.open()).toBeNull();
    vi.stubGlobal('WebAssembly', { validate: () => false });
    expect(FourLanes.open()).toBeNull();
  });

  it('a simulation gives the same figures', async () => {
    const withLanes = await outcome();
    vi.stubGlobal('WebAssembly', undefined);
    expect(await outcome()).toBe(withLanes);
    expect(withLanes.length).toBeGreaterThan(100);
  });
});
