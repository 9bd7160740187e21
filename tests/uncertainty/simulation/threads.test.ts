import { Worker } from 'node:worker_threads';
import { afterAll, describe, expect, it, vi } from 'vitest';
import { MeltbookError } from '../../../src/errors.js';
import type { RunPlan } from '../../../src/uncertainty/simulation/run-store.js';
import {
  type Simulation,
  type SimulationOptions,
  simulate,
} from '../../../src/uncertainty/simulation/simulate.js';
import { SimulationRun } from '../../../src/uncertainty/simulation/simulation-run.js';
import { Helpers } from '../../../src/uncertainty/simulation/threads/helpers.js';
import * as pool from '../../../src/uncertainty/simulation/threads/worker-pool.js';
import { input } from '../../support/input.js';
import { model } from '../../support/model.js';

const bent = model({ y: '(a + b) * c / d', z: 'a * c - d' });
const t = { degreesOfFreedom: 7, distribution: { kind: 't' } } as const;
const rectangular = { distribution: { kind: 'rectangular', halfWidth: 0.3 } } as const;
const inputs = [
  input('a', 10, 0.2),
  input('b', 4, 0.1),
  input('c', 2, 0.02, t),
  input('d', 5, 0.3 / Math.sqrt(3), rectangular),
];
const correlations = [{ first: 'a', second: 'b', coefficient: -0.6 }];

const run = (options: Partial<SimulationOptions>): Promise<Simulation> =>
  simulate(bent, inputs, correlations, { seed: 5, ...options });

afterAll(async () => {
  await pool.endIdleWorkers();
});

describe('threads of a simulation', () => {
  it('give identical bits whether 1, 2 or 4, also when the last block is short', async () => {
    const one = await run({ trials: 432_109 });
    expect(await run({ trials: 432_109, workers: 2 })).toEqual(one);
    expect(await run({ trials: 432_109, workers: 4 })).toEqual(one);
  }, 120_000);

  it('give identical bits when an adaptive simulation stops, whoever is ahead', async () => {
    const adaptive = { digits: 2, interval: 'symmetric' } as const;
    const one = await run({ adaptive });
    expect(one.stopped).toBe('stable');
    expect(await run({ adaptive, workers: 2 })).toEqual(one);
    expect(await run({ adaptive, workers: 3 })).toEqual(one);
  }, 120_000);

  it('serve several simulations at once', async () => {
    const seeds = [1, 2, 3];
    const together = await Promise.all(seeds.map((seed) => run({ seed, trials: 60_000, workers: 2 })));
    for (const seed of seeds) expect(together[seed - 1]).toEqual(await run({ seed, trials: 60_000 }));
  }, 60_000);

  it('can do all the work while the first one waits', async () => {
    const options = { seed: 5, trials: 100_000 } as const;
    const waiting = new SimulationRun({ model: bent, inputs, correlations, seed: 5 }, options);
    await new Helpers(2, waiting).finished();
    expect(waiting.finish()).toEqual(await run(options));
  }, 60_000);

  it('are kept for the next simulation, and ended when nobody needs them', async () => {
    await run({ trials: 10_000, workers: 3 });
    expect(await pool.endIdleWorkers()).toBeGreaterThanOrEqual(2);
    expect(await pool.endIdleWorkers()).toBe(0);
  }, 60_000);

  it.each([
    ['process.exit(3)', 'it ended with code 3'],
    ["throw new Error('no memory left')", 'no memory left'],
    [
      "require('node:worker_threads').parentPort.on('message', () => process.exit(4))",
      'it ended with code 4',
    ],
  ])(
    'are reported when they fail: %s',
    async (program, reason) => {
      const broken: Worker[] = [];
      const taken = vi.spyOn(pool, 'takeWorker').mockImplementation(() => {
        broken.push(new Worker(program, { eval: true }));
        return broken.at(-1)!;
      });
      const failed = run({ trials: 2_000_000, workers: 2 });
      await expect(failed).rejects.toThrow(`a thread of the simulation failed: ${reason}`);
      await expect(failed).rejects.toThrow(MeltbookError);
      expect(broken[0]!.threadId).toBe(-1);
      taken.mockRestore();
    },
    60_000,
  );

  it('are reported when they cannot begin', async () => {
    const { task, plan } = new SimulationRun(
      { model: bent, inputs, correlations, seed: 5 },
      { seed: 5, trials: 10_000 },
    );
    const buffers = { values: new SharedArrayBuffer(8), rest: new SharedArrayBuffer(8) };
    const request = { task, plan: plan as RunPlan, buffers };
    await expect(new Helpers(1, request).finished()).rejects.toThrow(/a thread of the simulation failed: /);
  });
});

describe('a simulation that is stopped', () => {
  it.each([1, 2])(
    'rejects with what it was asked, %d thread(s)',
    async (workers) => {
      const abort = new AbortController();
      const reason = new Error('window closed');
      const onProgress = (done: number): void => {
        if (done > 200_000) abort.abort(reason);
      };
      const stopped = run({ trials: 20_000_000, workers, onProgress, signal: abort.signal });
      await expect(stopped).rejects.toThrow(/^the simulation was stopped on request after \d+ trials$/);
      await expect(stopped).rejects.toMatchObject({ cause: reason, exitCode: 4 });
      // The next one is not disturbed.
      expect((await run({ trials: 20_000, workers })).trials).toBe(20_000);
    },
    60_000,
  );

  it('does not begin when it is stopped before', async () => {
    const begun = run({ trials: 20_000, signal: AbortSignal.abort() });
    await expect(begun).rejects.toThrow('stopped on request after 0 trials');
  });
});

describe('progress of a simulation', () => {
  it('rises to the number planned, and leaves time for other work', async () => {
    const seen: number[] = [];
    let others = 0;
    const timer = setInterval(() => others++, 1);
    await run({ trials: 1_000_000, onProgress: (done, planned) => seen.push(done / planned) });
    clearInterval(timer);
    expect(seen.length).toBeGreaterThan(20);
    expect(seen).toEqual([...seen].sort((a, b) => a - b));
    expect(seen.at(-1)).toBe(1);
    expect(others).toBeGreaterThan(5);
  });
});
