import { InputError, requirePositive } from '../../errors.js';
import { type ScreeningEffects, screeningEffects } from '../../statistics/ruggedness/screening-effects.js';
import { limitsOfEstimate, scaleLimits } from '../confidence-limits.js';
import type { ConfidenceLimits, Criterion, Finding } from '../finding.js';
import { type FindingOptions, makeFinding } from '../make-finding.js';
import { scaleOf } from '../scale.js';
import { verdictAgainst } from '../verdict.js';

/** One experiment of a two-level design. */
export interface RuggednessRow {
  readonly key: string;
  readonly levels: Readonly<Record<string, -1 | 1>>;
  readonly response: number;
}

export interface RuggednessOptions extends FindingOptions {
  /** Standard deviation of one experiment from elsewhere (repeatability) with its degrees of freedom; null where unknown. */
  readonly spread: { readonly standardDeviation: number; readonly degreesOfFreedom: number } | null;
  /** Columns of the design that carry no factor. */
  readonly dummies?: readonly string[];
}

/** Effect of one factor: mean response at the high level less that at the low level, in the unit of the response. */
export interface RuggednessEffect {
  readonly factor: string;
  readonly effect: number;
  readonly halfNormalScore: number;
  readonly limits: ConfidenceLimits;
}

/** Effects of all factors, with everything their table and figure need. */
export interface Ruggedness {
  readonly finding: Finding;
  /** In order of size, largest first. */
  readonly effects: readonly RuggednessEffect[];
  readonly standardError: number;
  readonly degreesOfFreedom: number;
  readonly errorFrom: 'repeatability' | ScreeningEffects['errorFrom'];
  readonly meanResponse: number;
}

/**
 * Effects of small deliberate changes in a two-level screening design. Each effect must stay within the allowed change by both
 * one-sided 95 % limits; the worst by its verdict decides, among equals the largest. The standard error is 2·s/√N with s from repeatability, else what the design itself
 * shows (runs of equal levels, dummy columns, small effects). Main effects of such designs are mixed with interactions.
 *
 * @param rows 8 or 12 runs (any number in which the factors are orthogonal)
 * @throws InputError fewer than 4 runs, a factor missing in a run, factors that are not orthogonal and balanced
 * @see ASTM E1169 (ruggedness tests); Youden and Steiner 1975
 */
export function ruggedness(rows: readonly RuggednessRow[], options: RuggednessOptions): Ruggedness {
  const factors = Object.keys(rows[0]?.levels ?? {});
  const design = screeningEffects(
    {
      names: factors,
      levels: rows.map((row) => factors.map((factor) => levelOf(row, factor, factors.length))),
      dummies: options.dummies ?? [],
    },
    rows.map((row) => row.response),
  );
  const error = errorOf(rows.length, design, options);
  const effects = design.effects
    .filter((effect) => !effect.isDummy)
    .map(({ name, effect, halfNormalScore }) => ({
      factor: name,
      effect,
      halfNormalScore,
      limits: limitsOfEstimate(effect, error.standardError, error.degreesOfFreedom),
    }))
    .sort((a, b) => Math.abs(b.effect) - Math.abs(a.effect));
  const finding = findingOf(rows, options, effects, error, design.mean);
  return { finding, effects, ...error, meanResponse: design.mean };
}

type EffectError = Pick<Ruggedness, 'standardError' | 'degreesOfFreedom' | 'errorFrom'>;

function levelOf(row: RuggednessRow, factor: string, factors: number): -1 | 1 {
  const level = row.levels[factor];
  if (level === undefined || Object.keys(row.levels).length !== factors) {
    throw new InputError(`run ${row.key}: found other factors than in the first run, expected the same`);
  }
  return level;
}

function errorOf(runs: number, design: ScreeningEffects, options: RuggednessOptions): EffectError {
  if (options.spread === null) {
    const { standardError, degreesOfFreedom, errorFrom } = design;
    return { standardError, degreesOfFreedom, errorFrom };
  }
  const { standardDeviation, degreesOfFreedom } = options.spread;
  requirePositive(standardDeviation, 'standard deviation');
  requirePositive(degreesOfFreedom, 'degrees of freedom');
  const standardError = (2 * standardDeviation) / Math.sqrt(runs);
  return { standardError, degreesOfFreedom, errorFrom: 'repeatability' };
}

function findingOf(
  rows: readonly RuggednessRow[],
  options: RuggednessOptions,
  effects: readonly RuggednessEffect[],
  error: EffectError,
  meanResponse: number,
): Finding {
  const [largest] = effects;
  if (largest === undefined) throw new InputError('factors: found dummies only, expected at least 1 factor');
  const scale = scaleOf(options.criterion, options.unit, meanResponse);
  const worst = worstEffect(effects, options.criterion, scale.factor);
  const place = worst === largest ? 'the largest' : 'not the largest, but the worst against the criterion,';
  return makeFinding('ruggedness', options, {
    quantity: `${scale.relative ? 'relative ' : ''}effect of ${worst.factor}, ${place} of ${effects.length}`,
    unit: scale.unit,
    estimate: worst.effect * scale.factor,
    limits: scaleLimits(worst.limits, scale.factor),
    degreesOfFreedom: error.degreesOfFreedom,
    n: rows.length,
    clause: 'ASTM E1169 (no clause)',
    method: `two-level screening design, standard error from ${error.errorFrom}`,
    rows: [{ table: 'factors', keys: rows.map((row) => row.key) }],
    notes: ['Main effects of a screening design are mixed with interactions of two factors.'],
    remedy: 'Repeat the design: the standard error falls with the root of the number of runs.',
  });
}

/** Under an allowed range that is not symmetric a smaller effect may break it while the largest keeps it. */
function worstEffect(
  effects: readonly RuggednessEffect[],
  criterion: Criterion | null,
  factor: number,
): RuggednessEffect {
  const order = { 'not met': 2, 'not shown': 1, met: 0, 'no criterion': 0, 'not studied': 0 };
  const rank = ({ effect, limits }: RuggednessEffect) =>
    order[verdictAgainst(scaleLimits(limits, factor), effect * factor, criterion).verdict];
  return effects.reduce((worst, effect) => (rank(effect) > rank(worst) ? effect : worst));
}
