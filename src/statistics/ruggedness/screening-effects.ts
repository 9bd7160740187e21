import { InputError, requireFinite, requireSameLength } from '../../errors.js';
import { mean } from '../descriptive/mean.js';
import { median } from '../descriptive/median.js';
import { studentTSurvival } from '../distributions/student-t.js';
import { halfNormalScores } from './half-normal-scores.js';

/** Effect of one factor: change of the response from its low to its high level. */
export interface ScreeningEffect {
  readonly name: string;
  readonly isDummy: boolean;
  readonly effect: number;
  readonly halfNormalScore: number;
  /** Effect over its standard error. */
  readonly t: number;
  readonly pValue: number;
}

/** Effects of a two-level design. */
export interface ScreeningEffects {
  readonly mean: number;
  readonly effects: readonly ScreeningEffect[];
  readonly standardError: number;
  readonly degreesOfFreedom: number;
  /** What the standard error rests on. */
  readonly errorFrom: 'replicates' | 'dummies' | 'small effects';
  /** Standard deviation of a single result if no factor had an effect: √(N/4 · mean of squared effects), after Youden. */
  readonly overallStandardDeviation: number;
  readonly method: string;
  readonly notes: readonly string[];
}

/** What the analysis needs of a design. */
export interface TwoLevelDesign {
  readonly names: readonly string[];
  readonly levels: readonly (readonly number[])[];
  readonly dummies?: readonly string[];
}

/**
 * Effects of a two-level design with orthogonal columns (screening designs, full factorials with or without interaction
 * columns), their half-normal scores and tests.
 *
 * The error comes from replicated runs, handed in as lists or as runs with equal levels in every column; else from dummy columns;
 * else from the small effects after Lenth, which supposes that few factors matter. Where only a few runs are repeated, what has
 * more degrees of freedom counts.
 *
 * @param design names and levels, +1 or −1, one row a run
 * @param responses one result a run, or a list of replicates a run, equally many
 * @throws InputError levels other than ±1, columns that are not balanced and orthogonal, unequal replicates, a value that is not
 *   finite
 * @see ASTM E1169; Youden and Steiner, Statistical Manual of the AOAC, 1975; Lenth 1989, Technometrics 31, 469
 * @example
 * const factorial = { names: ['acid', 'time'], levels: [[-1, -1], [1, -1], [-1, 1], [1, 1]] };
 * screeningEffects(factorial, [10, 12, 10.5, 12.7]).effects[0].effect // => 2.1
 */
export function screeningEffects(
  design: TwoLevelDesign,
  responses: readonly (number | readonly number[])[],
): ScreeningEffects {
  requireOrthogonal(design);
  requireSameLength(design.levels, 'runs', responses, 'responses');
  const runs = responses.map((response) => (typeof response === 'number' ? [response] : response));
  const replicates = runs[0]!.length;
  runs.forEach((run, i) => {
    requireFinite(run, `run ${i + 1}`);
    if (run.length !== replicates) {
      throw new InputError(`run ${i + 1}: found ${run.length} result(s), expected ${replicates} as in run 1`);
    }
  });
  const means = runs.map((run) => run.reduce((a, b) => a + b, 0) / replicates);
  const sizes = design.names.map((_, column) => {
    const total = means.reduce((sum, mean, run) => sum + design.levels[run]![column]! * mean, 0);
    return (2 * total) / runs.length;
  });
  const isDummy = design.names.map((name) => design.dummies?.includes(name) ?? false);
  const error = errorOfEffects(pooledWithin(design.levels, runs), sizes, isDummy);
  const scores = halfNormalScores(sizes);
  const total = runs.length * replicates;
  return {
    mean: means.reduce((a, b) => a + b, 0) / runs.length,
    effects: design.names.map((name, k) => {
      const effect = sizes[k]!;
      const t = ratio(effect, error.standardError);
      const pValue = Math.min(1, 2 * studentTSurvival(Math.abs(t), error.degreesOfFreedom));
      return { name, isDummy: isDummy[k]!, effect, halfNormalScore: scores[k]!, t, pValue };
    }),
    ...error,
    overallStandardDeviation: Math.sqrt(
      ((total / 4) * sizes.reduce((sum, effect) => sum + effect * effect, 0)) / sizes.length,
    ),
    method: 'effects of an orthogonal two-level design',
    notes:
      error.standardError === 0 ? ['The error came out as 0: tests say only which effects are not 0.'] : [],
  };
}

/** Infinite where an effect stands against an error of 0, 0 where both are 0. */
function ratio(effect: number, standardError: number): number {
  if (standardError > 0) return effect / standardError;
  return effect === 0 ? 0 : Math.sign(effect) * Number.POSITIVE_INFINITY;
}

function requireOrthogonal(design: TwoLevelDesign): void {
  const { names, levels } = design;
  if (names.length === 0 || levels.length < 4) {
    throw new InputError(
      `design: found ${names.length} factor(s) in ${levels.length} run(s), expected 4 runs or more`,
    );
  }
  levels.forEach((row, run) => {
    requireSameLength(row, `run ${run + 1}`, names, 'factors');
    if (row.some((level) => level !== 1 && level !== -1)) {
      throw new InputError(`run ${run + 1}: found a level other than +1 and −1`);
    }
  });
  names.forEach((name, a) => {
    if (levels.reduce((sum, row) => sum + row[a]!, 0) !== 0) {
      throw new InputError(`${name}: found high and low levels in unequal number`);
    }
    for (let b = 0; b < a; b++) {
      if (levels.reduce((sum, row) => sum + row[a]! * row[b]!, 0) !== 0) {
        throw new InputError(`${name} and ${names[b]}: found columns that are not orthogonal`);
      }
    }
  });
}

type EffectError = Pick<ScreeningEffects, 'standardError' | 'degreesOfFreedom' | 'errorFrom'>;

interface Within {
  readonly variance: number;
  readonly degreesOfFreedom: number;
  readonly results: number;
}

/** Variance of results of equal levels, pooled over the settings. */
function pooledWithin(levels: TwoLevelDesign['levels'], runs: readonly (readonly number[])[]): Within {
  const settings = new Map<string, number[]>();
  runs.forEach((run, i) => {
    const key = levels[i]!.join(' ');
    settings.set(key, [...(settings.get(key) ?? []), ...run]);
  });
  const results = runs.reduce((sum, run) => sum + run.length, 0);
  const degreesOfFreedom = results - settings.size;
  const squares = [...settings.values()].reduce((sum, values) => {
    const centre = mean(values);
    return sum + values.reduce((s, value) => s + (value - centre) ** 2, 0);
  }, 0);
  return { variance: degreesOfFreedom > 0 ? squares / degreesOfFreedom : 0, degreesOfFreedom, results };
}

function errorOfEffects(
  { variance, degreesOfFreedom, results }: Within,
  effects: readonly number[],
  isDummy: readonly boolean[],
): EffectError {
  const ofDummies = effects.filter((_, k) => isDummy[k]);
  const otherwise = ofDummies.length > 0 ? ofDummies.length : effects.length / 3;
  if (degreesOfFreedom > 0 && degreesOfFreedom >= otherwise) {
    const standardError = 2 * Math.sqrt(variance / results);
    return { standardError, degreesOfFreedom, errorFrom: 'replicates' };
  }
  if (ofDummies.length > 0) {
    const standardError = Math.sqrt(ofDummies.reduce((sum, e) => sum + e * e, 0) / ofDummies.length);
    return { standardError, degreesOfFreedom: ofDummies.length, errorFrom: 'dummies' };
  }
  return {
    standardError: pseudoStandardError(effects),
    degreesOfFreedom: effects.length / 3,
    errorFrom: 'small effects',
  };
}

/** Lenth: 1.5 × median of the absolute effects, taken again without those beyond 2.5 times it. */
function pseudoStandardError(effects: readonly number[]): number {
  const sizes = effects.map(Math.abs);
  const first = 1.5 * median(sizes);
  return 1.5 * median(sizes.filter((size) => size <= 2.5 * first));
}
