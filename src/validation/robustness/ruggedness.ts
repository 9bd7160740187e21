import { InputError, requireFinite, requirePositive } from '../../errors.js';
import { mean } from '../../statistics/descriptive/mean.js';
import { median } from '../../statistics/descriptive/median.js';
import { limitsOfEstimate, scaleLimits } from '../confidence-limits.js';
import type { ConfidenceLimits, Finding } from '../finding.js';
import { type FindingOptions, makeFinding } from '../make-finding.js';
import { scaleOf } from '../scale.js';

/** One experiment of a two-level design. */
export interface RuggednessRow {
  readonly key: string;
  readonly levels: Readonly<Record<string, -1 | 1>>;
  readonly response: number;
}

export interface RuggednessOptions extends FindingOptions {
  /** Standard deviation of one experiment from elsewhere (repeatability) with its degrees of freedom; null where unknown. */
  readonly spread: { readonly standardDeviation: number; readonly degreesOfFreedom: number } | null;
}

/** Effect of one factor: mean response at the high level less that at the low level, in the unit of the response. */
export interface RuggednessEffect {
  readonly factor: string;
  readonly effect: number;
  readonly limits: ConfidenceLimits;
}

/** Effects of all factors, with everything their table and figure need. */
export interface Ruggedness {
  readonly finding: Finding;
  /** In order of size, largest first. */
  readonly effects: readonly RuggednessEffect[];
  readonly standardError: number;
  readonly degreesOfFreedom: number;
  readonly meanResponse: number;
}

/**
 * Effects of small deliberate changes in a two-level screening design. Each effect must stay within the allowed change by both
 * one-sided 95 % limits; the largest decides. The standard error is 2·s/√N with s from repeatability, else Lenth's pseudo standard
 * error, which takes most factors to have no effect. Main effects of such designs are mixed with interactions.
 *
 * @param rows 8 or 12 runs (any number in which the factors are orthogonal)
 * @throws InputError fewer than 4 runs, a factor missing in a run, factors that are not orthogonal and balanced
 * @see ASTM E1169 (ruggedness tests); Youden and Steiner 1975; Lenth 1989, Technometrics 31, 469
 */
export function ruggedness(rows: readonly RuggednessRow[], options: RuggednessOptions): Ruggedness {
  requireFinite(
    rows.map((row) => row.response),
    'responses',
    4,
  );
  const factors = Object.keys(rows[0]!.levels);
  requireOrthogonal(rows, factors);
  const raw = factors.map((factor) => ({ factor, effect: effectOf(rows, factor) }));
  const { standardError, degreesOfFreedom, method } = standardErrorOf(rows.length, raw, options);
  const effects = raw
    .map((effect) => ({
      ...effect,
      limits: limitsOfEstimate(effect.effect, standardError, degreesOfFreedom),
    }))
    .sort((a, b) => Math.abs(b.effect) - Math.abs(a.effect));
  const meanResponse = mean(rows.map((row) => row.response));
  const scale = scaleOf(options.criterion, options.unit, meanResponse);
  const largest = effects[0]!;
  const finding = makeFinding('ruggedness', options, {
    quantity: `${scale.relative ? 'relative ' : ''}effect of ${largest.factor}, the largest of ${effects.length}`,
    unit: scale.unit,
    estimate: largest.effect * scale.factor,
    limits: scaleLimits(largest.limits, scale.factor),
    degreesOfFreedom,
    n: rows.length,
    clause: 'ASTM E1169 (no clause)',
    method: `two-level screening design; ${method}`,
    rows: [{ table: 'factors', keys: rows.map((row) => row.key) }],
    notes: ['Main effects of a screening design are mixed with interactions of two factors.'],
    remedy: 'Repeat the design: the standard error falls with the root of the number of runs.',
  });
  return { finding, effects, standardError, degreesOfFreedom, meanResponse };
}

function effectOf(rows: readonly RuggednessRow[], factor: string): number {
  return (2 * rows.reduce((sum, row) => sum + row.levels[factor]! * row.response, 0)) / rows.length;
}

function requireOrthogonal(rows: readonly RuggednessRow[], factors: readonly string[]): void {
  if (factors.length === 0) throw new InputError('factors: found none, expected at least 1');
  for (const row of rows) {
    const missing = factors.find((factor) => row.levels[factor] === undefined);
    if (missing !== undefined || Object.keys(row.levels).length !== factors.length) {
      throw new InputError(`run ${row.key}: expected the factors ${factors.join(', ')}`);
    }
  }
  factors.forEach((factor, i) => {
    if (rows.reduce((sum, row) => sum + row.levels[factor]!, 0) !== 0) {
      throw new InputError(`${factor}: found unequal numbers of runs at its two levels, expected equal ones`);
    }
    for (const other of factors.slice(i + 1)) {
      if (rows.reduce((sum, row) => sum + row.levels[factor]! * row.levels[other]!, 0) !== 0) {
        throw new InputError(
          `${factor} and ${other}: found levels that go together, expected an orthogonal design`,
        );
      }
    }
  });
}

function standardErrorOf(
  runs: number,
  effects: readonly { readonly effect: number }[],
  options: RuggednessOptions,
): { standardError: number; degreesOfFreedom: number; method: string } {
  if (options.spread !== null) {
    const { standardDeviation, degreesOfFreedom } = options.spread;
    requirePositive(standardDeviation, 'standard deviation');
    requirePositive(degreesOfFreedom, 'degrees of freedom');
    return {
      standardError: (2 * standardDeviation) / Math.sqrt(runs),
      degreesOfFreedom,
      method: 'standard error from repeatability',
    };
  }
  const sizes = effects.map(({ effect }) => Math.abs(effect));
  const first = 1.5 * median(sizes);
  const small = sizes.filter((size) => size < 2.5 * first);
  return {
    standardError: small.length > 0 ? 1.5 * median(small) : 0,
    degreesOfFreedom: effects.length / 3,
    method: 'pseudo standard error of Lenth',
  };
}
