import {
  InputError,
  requireFinite,
  requireNonNegative,
  requirePositive,
  requireSameLength,
} from '../errors.js';

/** Standard uncertainty as a function of the level of the measurand: u(x) = √(s₀² + (s₁·x)²). */
export interface UncertaintyFunction {
  /** s₀, in the unit of the level. */
  readonly constantPart: number;
  /** s₁, relative. */
  readonly proportionalPart: number;
  /** u found over u fitted, at each level. */
  readonly ratios: readonly number[];
  readonly notes: readonly string[];
}

/**
 * Standard uncertainty as a function of the level, from its values at two levels or more. Each level counts by its
 * relative deviation; a part that the data do not show is held at 0, with a note.
 *
 * @param levels values of the measurand, at least 0, not all equal
 * @param uncertainties standard uncertainties at these levels, above 0
 * @throws InputError fewer than two different levels, squares of levels beyond the range of numbers, an uncertainty not above 0
 * @see QUAM:2012, Appendix E.5
 * @example
 * uncertaintyFunction([0, 10], [0.1, 0.5]).proportionalPart // => 0.0489897949
 */
export function uncertaintyFunction(
  levels: readonly number[],
  uncertainties: readonly number[],
): UncertaintyFunction {
  requireFinite(levels, 'levels', 2);
  requireSameLength(levels, 'levels', uncertainties, 'standard uncertainties');
  for (const level of levels) requireNonNegative(level, 'level');
  for (const u of uncertainties) requirePositive(u, 'standard uncertainty at a level');
  if (levels.every((level) => level === levels[0])) {
    throw new InputError(`levels: found ${levels[0]} only, expected two different levels at least`);
  }
  const variances = uncertainties.map((u) => u * u);
  const { constant, proportional, notes } = fitParts(levels, variances);
  const [constantPart, proportionalPart] = [Math.sqrt(constant), Math.sqrt(proportional)];
  const fitted = levels.map((level) => Math.hypot(constantPart, proportionalPart * level));
  if (fitted.some((u) => u === 0)) {
    throw new InputError(
      'levels: the level 0 has an uncertainty that the other levels contradict; add levels',
    );
  }
  return { constantPart, proportionalPart, ratios: uncertainties.map((u, i) => u / fitted[i]!), notes };
}

interface Parts {
  readonly constant: number;
  readonly proportional: number;
  readonly notes: readonly string[];
}

/**
 * Least squares of relative deviations of variances, (a + b·x²)/v − 1, with a and b at least 0. The determinants are sums over
 * pairs of levels (Cauchy and Binet), in which levels that hardly differ, or uncertainties far apart, cancel nothing.
 */
function fitParts(levels: readonly number[], variances: readonly number[]): Parts {
  const p = variances.map((v) => 1 / v);
  const q = levels.map((level, i) => level * level * p[i]!);
  let [determinant, forConstant, forProportional] = [0, 0, 0];
  levels.forEach((level, i) => {
    for (let j = 0; j < i; j++) {
      const other = levels[j]!;
      const rise = (level - other) * (level + other);
      const minor = p[i]! * p[j]! * rise;
      determinant += minor * minor;
      forConstant += minor * (p[i]! * rise + (p[i]! - p[j]!) * other * other);
      forProportional += minor * (p[j]! - p[i]!);
    }
  });
  if (!(determinant > 0 && Number.isFinite(determinant))) {
    throw new InputError(
      `levels: found ${Math.min(...levels)} to ${Math.max(...levels)} with squares too near or too far apart to tell the parts`,
    );
  }
  const [constant, proportional] = [forConstant / determinant, forProportional / determinant];
  const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);
  const ofConstantAlone = sum(p) / sum(p.map((value) => value * value));
  const ofProportionalAlone = sum(q) / sum(q.map((value) => value * value));
  if (proportional < 0) {
    const notes = ['the uncertainty does not rise with the level: the proportional part is held at 0'];
    return { constant: ofConstantAlone, proportional: 0, notes };
  }
  if (constant < 0) {
    const notes = [
      'the uncertainty is proportional to the level over this range: the constant part is held at 0',
    ];
    return { constant: 0, proportional: ofProportionalAlone, notes };
  }
  return { constant, proportional, notes: [] };
}

/**
 * Standard uncertainty at a level.
 *
 * @param level at least 0
 * @example
 * uncertaintyAtLevel({ constantPart: 3, proportionalPart: 0.4, ratios: [], notes: [] }, 10) // => 5
 */
export function uncertaintyAtLevel(parts: UncertaintyFunction, level: number): number {
  requireNonNegative(level, 'level');
  return Math.hypot(parts.constantPart, parts.proportionalPart * level);
}
