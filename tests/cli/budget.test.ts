import { execFile } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { BudgetFile } from '../../src/uncertainty/budget-file/budget-file.js';
import { reference } from '../support/reference.js';
import { temporaryFolder } from '../support/temporary-folder.js';

const root = resolve(__dirname, '../..');

function budget(...args: string[]): Promise<{ code: number; out: string; err: string }> {
  return new Promise((done) => {
    execFile(process.execPath, [join(root, 'dist/cli.js'), 'budget', ...args], (error, out, err) => {
      done({ code: error === null ? 0 : Number(error.code), out, err });
    });
  });
}

const { budget: endGauge } = reference<{ budget: BudgetFile }>('uncertainty/gum-h1-end-gauge');

/** Path of a file that holds the end gauge of GUM H.1, changed. */
function endGaugeFile(change: Partial<BudgetFile> = {}): string {
  const path = join(temporaryFolder(), 'end-gauge.json');
  writeFileSync(path, JSON.stringify({ ...endGauge, ...change }));
  return path;
}

describe('meltbook budget', () => {
  it('prints the budget by step, the result and what it would take to meet the target', async () => {
    const file = endGaugeFile({ targets: [{ output: 'l', expandedUncertainty: 80 }] });
    const { code, out } = await budget(file, '--output', 'l');
    expect(code).toBe(0);
    // JCGM 100:2008, H.1: u = 32 nm, 16.7 degrees of freedom; 34 nm with second-order terms (remembered).
    expect(out).toContain('u = 31.7 nm, ν = 16.7 effective degrees of freedom');
    expect(out).toContain('l = (50000838 ± 92) nm');
    expect(out).toContain('With second-order terms u is 34 nm instead of 32 nm');
    expect(out).toMatch(/\ntemperature +17 +28\.3\n/);
    expect(out).toContain('Target not met: U of l is');
    expect(out).toContain('Simulation of 1000000 trials (a fixed number), seed 1.');
    expect(out).toContain('without the uncertainty of dtheta U would be 75 nm');
    expect(out).not.toContain('Budget of theta');
  });

  it('writes page, JSON at full precision and tables into a new folder, and into no other', async () => {
    const out = join(temporaryFolder(), 'report');
    const file = endGaugeFile();
    expect((await budget(file, '--out', out)).code).toBe(0);
    const document = JSON.parse(readFileSync(join(out, 'report.json'), 'utf8')) as {
      data: { outputs: { budget: { output: string; standardUncertainty: number } }[] };
    };
    expect(document.data.outputs[2]!.budget.standardUncertainty).toRoundTo('31.658160');
    expect(readFileSync(join(out, 'report.html'), 'utf8')).toContain('Calibration of an end gauge');
    const table = readFileSync(join(out, 'tables', 'output.l.budget.csv'), 'utf8').split('\n');
    expect(table[0]).toMatch(/^step,quantity,/);
    expect(table.filter((line) => line !== '')).toHaveLength(1 + endGauge.inputs.length);

    const again = await budget(file, '--out', out);
    expect([again.code, again.err]).toEqual([2, expect.stringContaining('it is not overwritten')]);
    const other = join(temporaryFolder(), 'taken');
    mkdirSync(other);
    writeFileSync(join(other, 'mine.txt'), 'mine');
    expect((await budget(file, '--out', other)).code).toBe(2);
    expect(readdirSync(other)).toEqual(['mine.txt']);
  });

  it('gives a machine every figure', async () => {
    const { code, out } = await budget(endGaugeFile(), '--json');
    expect(code).toBe(0);
    const { outputs } = JSON.parse(out) as { outputs: { budget: { effectiveDegreesOfFreedom: unknown } }[] };
    expect(outputs[1]!.budget.effectiveDegreesOfFreedom).toBe('Infinity');
  });

  it('names the file and the place of every fault, and writes nothing', async () => {
    const out = join(temporaryFolder(), 'report');
    const [first, ...rest] = endGauge.inputs;
    const inputs = [{ ...first!, unit: 'furlong' }, { ...rest[0]!, unit: 'parsec' }, ...rest.slice(1)];
    const { code, err } = await budget(endGaugeFile({ inputs }), '--out', out);
    expect(code).toBe(3);
    expect(err).toContain(
      'end-gauge.json, key "inputs[0].unit": found "furlong" (unit "furlong", position 1); expected a unit',
    );
    expect(err).toContain('end-gauge.json, key "inputs[1].unit": found "parsec"');
    expect(existsSync(out)).toBe(false);
  });

  it('simulates with the seed and the trials asked for, the same on any number of workers', async () => {
    const file = endGaugeFile();
    const run = ['--output', 'd', '--json', '--trials', '20000', '--seed', '7'];
    const [one, two, other] = await Promise.all([
      budget(file, ...run),
      budget(file, ...run, '--workers', '2'),
      budget(file, '--output', 'd', '--json', '--trials', '20000', '--seed', '8'),
    ]);
    expect(one.out).toBe(two.out);
    const simulated = (ended: typeof one) =>
      JSON.parse(ended.out) as { simulation: object; outputs: { simulated: { estimate: number } }[] };
    expect(simulated(one).simulation).toMatchObject({ seed: 7, trials: 20000, stopped: 'fixed' });
    expect(simulated(one).outputs[0]!.simulated.estimate).not.toBe(
      simulated(other).outputs[0]!.simulated.estimate,
    );
  });

  it('goes on until the digits asked for are stable', async () => {
    const { code, out } = await budget(endGaugeFile(), '--output', 'theta', '--digits', '1');
    expect(code).toBe(0);
    expect(out).toMatch(/Simulation of \d+ trials \(until the figures were stable\), seed 1/);
  });

  it.each([
    [['--trials', '0'], '--trials: found "0", expected a whole number of at least 1'],
    [['--trials', '1e6'], '--trials: found "1e6"'],
    [['--trials', '10'], 'trials: found 10, expected a whole number of at least'],
    [['--trials', '20000', '--digits', '2'], 'found --trials and --digits, expected one of the two'],
    [['--digits', '4'], 'stable digits: found 4, expected a whole number from 1 to 3'],
    [['--workers', '0'], '--workers: found "0"'],
    [['--seed', '-1'], '--seed'],
  ])('refuses %j', async (args, message) => {
    const { code, err } = await budget(endGaugeFile(), ...args);
    expect(code).toBe(2);
    expect(err).toContain(message);
  });

  const examples = join(root, 'data/budget-examples');
  it.each(readdirSync(examples).filter((name) => name.endsWith('.json')))(
    'evaluates the example %s',
    async (name) => {
      const { code, out, err } = await budget(join(examples, name));
      expect([code, err]).toEqual([0, '']);
      expect(out).toMatch(/\n(Published example|Invented figures): /);
      expect(out).toContain('Law of propagation: u = ');
      expect(out).toMatch(/the law of propagation (agrees|does not agree) with the simulation/);
      const last = out.trimEnd().split('\n').at(-1)!;
      if (out.includes('does not agree with the simulation')) {
        expect(last).toMatch(/^To report: .* interval .* from the simulation, as the law of propagation/);
        const [, low] = /interval, symmetric in probability: (\S+) to/.exec(out)!;
        expect(last).toContain(`interval ${low} to`);
      } else {
        expect(last).toMatch(/^To report: .* ± .* from the law of propagation, with which the simulation/);
        const [, result] = /\n {2}(.* = \(.* ± .*\).*)\n/.exec(out)!;
        expect(last).toContain(`To report: ${result},`);
      }
      expect(out.split('\n').filter((line) => /NaN|undefined|null/.test(line))).toEqual([]);
    },
  );

  it('refuses a command line that cannot be followed', async () => {
    expect((await budget()).code).toBe(2);
    expect((await budget(endGaugeFile(), '--fast')).err).toContain('usage: meltbook budget <file>');
    const unknown = await budget(endGaugeFile(), '--output', 'x');
    expect([unknown.code, unknown.err]).toEqual([
      2,
      expect.stringContaining('found "x", expected one of d, theta, l'),
    ]);
    const missing = await budget('no-such-file.json');
    expect([missing.code, missing.err.trim()]).toEqual([
      2,
      'budget file: found no such file no-such-file.json, expected the path of a JSON file',
    ]);
  });
});
